# Writes strd.json: data and certified values of NIST's Statistical Reference Datasets for linear least squares
# (www.itl.nist.gov/div898/strd; data of a US government agency, public domain). Longley's rows are those of R's
# datasets::longley in NIST's units; Wampler 1 to 5 are made by their own rule. `certified` are NIST's printed values
# (Longley's from memory), `exact` the same computed here in rational arithmetic from the decimal data, so that
# neither a slip of memory nor one of typing can pass: the script stops where the two differ by more than the last digits.
# Run with: python3 strd.py
import json
from decimal import Decimal, getcontext
from fractions import Fraction as F

getcontext().prec = 60
LONGLEY = [
    "60323 83 234289 2356 1.59E+3 107608 1947",
    "61122 88.5 259426 2325 1456 108632 1948",
    "60171 88.2 258054 3682 1616 109773 1949",
    "61187 89.5 284599 3351 1.65E+3 110929 1.95E+3",
    "63221 96.2 328975 2099 3099 112075 1951",
    "63639 98.1 346999 1932 3594 1.1327E+5 1952",
    "64989 99 365385 1.87E+3 3547 115094 1953",
    "63761 1E+2 363112 3578 3.35E+3 116219 1954",
    "66019 101.2 397469 2904 3048 117388 1955",
    "67857 104.6 4.1918E+5 2822 2857 118734 1956",
    "68169 108.4 442769 2936 2798 120445 1957",
    "66513 110.8 444546 4681 2637 1.2195E+5 1958",
    "68655 112.6 482704 3813 2552 123366 1959",
    "69564 114.2 502601 3931 2514 125368 1.96E+3",
    "69331 115.7 518173 4806 2572 127852 1961",
    "70551 116.9 554894 4007 2827 130081 1962",
]
FILIP_Y = """
0.8116 0.9072 0.9052 0.9039 0.8053 0.8377 0.8667 0.8809 0.7975 0.8162 0.8515 0.8766 0.8885 0.8859
0.8959 0.8913 0.8959 0.8971 0.9021 0.909 0.9139 0.9199 0.8692 0.8872 0.89 0.891 0.8977 0.9035
0.9078 0.7675 0.7705 0.7713 0.7736 0.7775 0.7841 0.7971 0.8329 0.8641 0.8804 0.7668 0.7633 0.7678
0.7697 0.77 0.7749 0.7796 0.7897 0.8131 0.8498 0.8741 0.8061 0.846 0.8751 0.8856 0.8919 0.8934
0.894 0.8957 0.9047 0.9129 0.9209 0.9219 0.7739 0.7681 0.7665 0.7703 0.7702 0.7761 0.7809 0.7961
0.8253 0.8602 0.8809 0.8301 0.8664 0.8834 0.8898 0.8964 0.8963 0.9074 0.9119 0.9228
"""
FILIP_X = """
-6.860120914 -4.324130045 -4.358625055 -4.358426747 -6.955852379 -6.661145254 -6.355462942 -6.118102026 -7.115148017
-6.815308569 -6.519993057 -6.204119983 -5.853871964 -6.109523091 -5.79832982 -5.482672118 -5.171791386 -4.851705903
-4.517126416 -4.143573228 -3.709075441 -3.499489089 -6.300769497 -5.953504836 -5.642065153 -5.031376979 -4.680685696
-4.329846955 -3.928486195 -8.56735134 -8.363211311 -8.107682739 -7.823908741 -7.522878745 -7.218819279 -6.920818754
-6.628932138 -6.323946875 -5.991399828 -8.781464495 -8.663140179 -8.473531488 -8.247337057 -7.971428747 -7.676129393
-7.352812702 -7.072065318 -6.774174009 -6.478861916 -6.159517513 -6.835647144 -6.53165267 -6.224098421 -5.910094889
-5.598599459 -5.290645224 -4.974284616 -4.64454848 -4.290560426 -3.885055584 -3.408378962 -3.13200249 -8.726767166
-8.66695597 -8.511026475 -8.165388579 -7.886056648 -7.588043762 -7.283412422 -6.995678626 -6.691862621 -6.392544977
-6.067374056 -6.684029655 -6.378719832 -6.065855188 -5.752272167 -5.132414673 -4.811352704 -4.098269308 -3.66174277
-3.2644011
"""
DELTA = [759, -2048, 2048, -2048, 2523, -2048, 2048, -2048, 1838, -2048, 2048, -2048, 1838, -2048, 2048, -2048, 2523, -2048, 2048, -2048, 759]
W3 = [2152.32624678170, 2363.55173469681, 779.343524331583, 101.475507550350, 5.64566512170752, 0.112324854679312]
CERTIFIED = {
    "Longley": ([-3482258.63459582, 15.0618722713733, -0.358191792925910e-01, -2.02022980381683, -1.03322686717359, -0.511041056535807e-01, 1829.15146461355],
                [890420.383607373, 84.9149257747669, 0.334910077722432e-01, 0.488399681651699, 0.214274163161675, 0.226073200069370, 455.478499142212]),
    "Filip": ([-1467.48961422980, -2772.17959193342, -2316.37108160893, -1127.97394098372, -354.478233703349, -75.1242017393757, -10.8753180355343, -1.06221498588947, -0.670191154593408e-01, -0.246781078275479e-02, -0.402962525080404e-04],
              [298.084530995537, 559.779865474950, 466.477572127796, 227.204274477751, 71.6478660875927, 15.2897178747400, 2.23691159816033, 0.221624321934227, 0.142363763154724e-01, 0.535617408889821e-03, 0.896632837373868e-05]),
    "Wampler1": ([1.0] * 6, [0.0] * 6),
    "Wampler2": ([1.0, 0.1, 0.01, 0.001, 0.0001, 0.00001], [0.0] * 6),
    "Wampler3": ([1.0] * 6, W3),
    "Wampler4": ([1.0] * 6, [100 * s for s in W3]),
    "Wampler5": ([1.0] * 6, [10000 * s for s in W3]),
    "NoInt1": ([2.07438016528926], [0.165289256198347e-01]),
    "NoInt2": ([0.727272727272727], [0.420827318078432e-01]),
}

def powers(x, degree): return [[v ** k for k in range(degree + 1)] for v in x]

def data():
    rows = [[F(v) for v in r.split()] for r in LONGLEY]
    yield "Longley", [[F(1)] + r[1:] for r in rows], [r[0] for r in rows]
    x = [F(v) for v in FILIP_X.split()]
    yield "Filip", powers(x, 10), [F(v) for v in FILIP_Y.split()]
    x = [F(k) for k in range(21)]
    plain = [sum(v ** k for k in range(6)) for v in x]
    yield "Wampler1", powers(x, 5), plain
    yield "Wampler2", powers(x, 5), [sum((v / 10) ** k for k in range(6)) for v in x]
    for name, times in (("Wampler3", 1), ("Wampler4", 100), ("Wampler5", 10000)):
        yield name, powers(x, 5), [p + times * d for p, d in zip(plain, DELTA)]
    yield "NoInt1", [[F(v)] for v in range(60, 71)], [F(v) for v in range(130, 141)]
    yield "NoInt2", [[F(v)] for v in (4, 5, 6)], [F(3), F(4), F(4)]

def inverse(a):
    n = len(a); m = [list(r) + [F(int(i == j)) for j in range(n)] for i, r in enumerate(a)]
    for i in range(n):
        k = next(k for k in range(i, n) if m[k][i] != 0); m[i], m[k] = m[k], m[i]
        d = m[i][i]; m[i] = [v / d for v in m[i]]
        for k in range(n):
            if k != i and m[k][i] != 0: f = m[k][i]; m[k] = [u - f * v for u, v in zip(m[k], m[i])]
    return [r[n:] for r in m]

def root(q): return (Decimal(q.numerator) / Decimal(q.denominator)).sqrt()

out = {"about": "written by strd.py", "sets": []}
for name, X, y in data():
    n, p = len(X), len(X[0])
    gram = [[sum(r[i] * r[j] for r in X) for j in range(p)] for i in range(p)]
    inv = inverse(gram)
    xy = [sum(r[i] * v for r, v in zip(X, y)) for i in range(p)]
    b = [sum(u * v for u, v in zip(row, xy)) for row in inv]
    rss = sum((v - sum(u * w for u, w in zip(r, b))) ** 2 for r, v in zip(X, y))
    se = [float(root(rss / (n - p) * inv[i][i])) for i in range(p)]
    est, sd = CERTIFIED[name]
    for found, printed in zip([float(v) for v in b] + se, est + sd):
        assert abs(found - printed) <= 1e-13 * abs(printed) + (1e-300 if printed else 0), (name, found, printed)
    out["sets"].append({"name": name, "x": [[float(v) for v in r] for r in X], "y": [float(v) for v in y],
        "certified": {"coefficients": est, "standardErrors": sd},
        "exact": {"coefficients": [float(v) for v in b], "standardErrors": se, "residualSumOfSquares": float(rss)}})
json.dump(out, open("strd.json", "w"))
