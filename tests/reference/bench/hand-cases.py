"""Bench cases worked apart from the program: ethanol and water by OIML R 22 (1975) at 20 degrees, everything else
additive. Python 3, standard library only. Run: python3 hand-cases.py > hand-cases.json"""
import json, platform

A = [998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042, -613838.1234,
     747017.2998, -547846.1354, 223446.0334, -39032.85426]
rho = lambda p: sum(a * p**k for k, a in enumerate(A)) / 1000
PURE = rho(1)
vol = lambda p: 100 * p * rho(p) / PURE

def fraction(q):
    lo, hi = 0.0, 1.0
    for _ in range(200):
        mid = (lo + hi) / 2
        lo, hi = (mid, hi) if vol(mid) < q else (lo, mid)
    return (lo + hi) / 2

def dilute(frm, to, make):
    grams = make * rho(fraction(to))
    spirit = grams * fraction(to) / fraction(frm)
    water = grams - spirit
    s, w = spirit / rho(fraction(frm)), water / rho(0)
    return dict(spiritGrams=spirit, waterGrams=water, spiritMillilitres=s, waterMillilitres=w, totalMillilitres=make,
                contractionMillilitres=s + w - make)

P96 = fraction(96)
# limonene 1.2 g at 0.84; nootkatone 10 % in ethanol 96, 0.8 g at 0.81; quassia extract (2 % quassin in ethanol 96, quassin
# counted at 1.2 g/mL) 2 g; rum of 40 % by volume, 16 g.
nk_spirit, qu_spirit = 0.72, 1.96
def spirit_volume(ethanol, water): return (ethanol + water) / rho(ethanol / (ethanol + water))
ethanol = (nk_spirit + qu_spirit) * P96 + 16 * fraction(40)
water = (nk_spirit + qu_spirit) * (1 - P96) + 16 * (1 - fraction(40))
nk_room = 0.8 / 0.81 - spirit_volume(nk_spirit * P96, nk_spirit * (1 - P96))
ml = 1.2 / 0.84 + nk_room + 0.04 / 1.2 + spirit_volume(ethanol, water)
grams = 20.0
density = grams / ml
strength = dict(grams=grams, millilitres=ml, density=density, percentVol=100 * ethanol / PURE / ml,
                substances={"ethanol": ethanol, "water": water, "d-limonene": 1.2, "nootkatone": 0.08, "quassin": 0.04})
each = 5 * 30 / 1000  # 5 mL a litre of syrup, 30 mL of syrup a drink of 180 mL at 1.03 g/mL with 5 % vol of its own
dose = dict(millilitres=each, grams=each * density, drops=each * density / 0.02,
            percentVol=5 + each * strength["percentVol"] / 180,
            mgPerKg={k: 1e6 * each * density * g / grams / (180 * 1.03) for k, g in strength["substances"].items()})
prices = [1.2 * 0.3, 0.8 * 0.5, 2 * 0.25, 16 * 0.02]
def scaled(f): return dict(grams=grams * f, millilitres=ml * f, cost=sum(prices) * f)
scale = {"5kg": scaled(5000 / grams), "2L": scaled(2000 / ml), "250g": scaled(250 / grams), "500mL": scaled(500 / ml)}
cases = [(96, 40, 1000), (95, 50, 100), (40, 20, 750), (96, 96, 10)]
print(json.dumps(dict(source="hand-cases.py", python=platform.python_version(),
                      dilute=[dict(**dict(zip(("from", "to", "make"), c)), **dilute(*c)) for c in cases],
                      strength=strength, dose=dose, scale=scale), indent=1))
