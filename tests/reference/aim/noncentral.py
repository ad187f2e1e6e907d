"""Expected improvement of a composite of independent normal misses, through the noncentral chi-square, by SciPy.

distance = root of the mean of K squared misses, each normal with mean m_k and standard deviation s (one for all):
K distance^2 / s^2 is noncentral chi-square with K degrees of freedom and noncentrality sum m_k^2 / s^2.

Run: python3 noncentral.py > noncentral.json
"""
import json
import numpy as np
import scipy
from scipy import integrate, stats

cases = []
for means, s, best in [
    ([2.0, -1.0, 3.0], 2.0, 3.0),
    ([6.0, 4.0, -5.0, 2.0], 3.0, 4.0),
    ([0.5, 0.5], 1.0, 1.2),
    ([10.0, -8.0, 9.0, 7.0, 6.0], 2.5, 5.0),
    ([0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0], 4.0, 4.0),
]:
    k, nc = len(means), sum(m * m for m in means) / s**2
    law = stats.ncx2(k, nc) if nc > 0 else stats.chi2(k)
    cdf = lambda d: law.cdf(k * d * d / s**2)
    # E max(0, best - D) is the integral of P(D <= d) from 0 to best
    gain, _ = integrate.quad(cdf, 0, best, epsabs=1e-12, epsrel=1e-10)
    mean, _ = integrate.quad(lambda d: 1 - cdf(d), 0, 60, epsabs=1e-11, limit=400)
    cases.append({"means": means, "deviation": s, "best": best, "gain": gain, "expectedDistance": mean,
                  "chanceBelowBest": cdf(best)})
print(json.dumps({"made by": f"SciPy {scipy.__version__}, numpy {np.__version__}", "cases": cases}, indent=1))
