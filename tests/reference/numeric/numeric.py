# Writes numeric.json: Sobol' points, linear programs with their optima, integrals, by SciPy. Run with:
# /usr/bin/python3 numeric.py
import json, warnings, numpy, scipy
from scipy.integrate import quad
from scipy.optimize import linprog
from scipy.stats import qmc
warnings.simplefilter("ignore")
rng = numpy.random.default_rng(5)
programs = []
for k in range(48):
    n, m = int(rng.integers(3, 9)), int(rng.integers(2, 12))
    a, c = numpy.round(rng.normal(size=(m, n)), 2), numpy.round(rng.normal(size=n), 2)
    v = a @ rng.dirichlet(numpy.ones(n))
    low, high = numpy.round(v - rng.uniform(0, .5, m), 3), numpy.round(v + rng.uniform(0, .5, m), 3)
    if k % 4 == 3:
        i = int(rng.integers(m)); low[i] = numpy.round(a[i].max() + .1, 3); high[i] = low[i] + 1
    r = linprog(c, A_ub=numpy.vstack([a, -a]), b_ub=numpy.r_[high, -low], A_eq=numpy.ones((1, n)), b_eq=[1], bounds=[(0, 1)] * n, method="highs")
    programs.append(dict(objective=c.tolist(), rows=[dict(coefficients=row.tolist(), least=float(l), most=float(h)) for row, l, h in zip(a, low, high)],
                         status={0: "optimal", 2: "infeasible"}[r.status], value=float(r.fun) if r.status == 0 else None))
integrals = dict(damped=quad(lambda x: numpy.exp(-x) * numpy.cos(20 * x), 0, 5, epsabs=1e-13, epsrel=1e-13)[0],
                 peak=quad(lambda x: 1 / (1e-4 + x * x), -1, 1, epsabs=1e-13, epsrel=1e-13, limit=500)[0])
json.dump(dict(about="written by numeric.py", scipy=scipy.__version__, sobol=qmc.Sobol(21, scramble=False).random(40).tolist(),
               programs=programs, integrals=integrals), open("numeric.json", "w"))

# random.json: uniforms of our streams rebuilt on NumPy's Mersenne twister: FNV-1a of "seed name", the finaliser of
# MurmurHash3, the twister's first 16 numbers dropped, then 26 and 27 bits of two numbers a uniform.
def stream(text, count):
    h = 0x811c9dc5
    for c in text: h = (h ^ ord(c)) * 0x01000193 % 2**32
    h = (h ^ h >> 16) * 0x85ebca6b % 2**32
    h = (h ^ h >> 13) * 0xc2b2ae35 % 2**32
    h ^= h >> 16
    raw = numpy.random.RandomState(h).randint(0, 2**32, 16 + 2 * count, dtype=numpy.uint32)[16:]
    return [(int(a) & 67108863) / 2**26 + (int(b) & 134217727) / 2**53 for a, b in zip(raw[0::2], raw[1::2])]
texts = ["1 ", "1 check", "1 check/a", "-7 check", "123456789 orders"]
json.dump(dict(about="written by numeric.py", numpy=numpy.__version__, streams=[dict(text=t, uniforms=stream(t, 5)) for t in texts]), open("random.json", "w"))
