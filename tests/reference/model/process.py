"""Gaussian process with fixed hyperparameters, by scikit-learn: expected values for tests/engine/model/process.

Run: python3 process.py > process.json   (scikit-learn and numpy as printed in the output)
"""
import json
import numpy as np
import sklearn
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import ConstantKernel, DotProduct, Matern

rng = np.random.default_rng(5)
low, high = np.array([0.2, 0.1, 0.05]), np.array([0.7, 0.5, 0.4])
dose = (0.1, 0.4)


def shares(n):
    out = []
    while len(out) < n:
        x = low + (1 - low.sum()) * rng.dirichlet([1, 1, 1])
        if (x <= high).all():
            out.append(x)
    return np.round(np.array(out), 4)


def closed(s):
    s[:, 0] = np.round(1 - s[:, 1] - s[:, 2], 4)
    return s


mixes, cover, points = closed(shares(9)), closed(shares(40)), closed(shares(5))
doses = [np.round(rng.uniform(*dose, n), 3) for n in (9, 40, 5)]
scores = np.round(35 + 60 * mixes[:, 0] * mixes[:, 1] + 30 * mixes[:, 2] + 20 * doses[0] + rng.normal(0, 3, 9), 2)


def inputs(x, d):
    """On 0..1 over the widths, then about the mean of the cover."""
    return np.column_stack([(x - low) / (high - low), (d - dose[0]) / (dose[1] - dose[0])])


centre = inputs(cover, doses[1]).mean(axis=0)
X, C, P = (inputs(x, d) - centre for x, d in zip((mixes, cover, points), doses))
squares = (C**2).sum(axis=1)
plane, products = squares.mean(), (squares**2).mean()
amplitude, length, parts, level, noise = 13.0, 1.0, (0.65, 0.15, 0.2), 30.0, 7.5

kernel = ConstantKernel(level**2) + ConstantKernel(amplitude**2) * (
    ConstantKernel(parts[0] / plane) * DotProduct(0.0)
    + ConstantKernel(parts[1] / products) * DotProduct(0.0) ** 2
    + ConstantKernel(parts[2]) * Matern(length, nu=2.5)
)
process = GaussianProcessRegressor(kernel, alpha=noise, optimizer=None).fit(X, scores - 50)
mean, covariance = process.predict(P, return_cov=True)

print(json.dumps({
    "made by": f"scikit-learn {sklearn.__version__}, numpy {np.__version__}",
    "low": low.tolist(), "high": high.tolist(), "dose": dose,
    "mixes": [{"shares": x.tolist(), "settings": [d]} for x, d in zip(mixes, doses[0].tolist())],
    "cover": [{"shares": x.tolist(), "settings": [d]} for x, d in zip(cover, doses[1].tolist())],
    "points": [{"shares": x.tolist(), "settings": [d]} for x, d in zip(points, doses[2].tolist())],
    "scores": scores.tolist(), "amplitude": amplitude, "length": length, "parts": parts, "noise": noise,
    "mean": (mean + 50).tolist(), "covariance": covariance.tolist(),
    "logMarginalLikelihood": process.log_marginal_likelihood_value_,
}, indent=1))
