# Writes ranking.json: Friedman's and Page's tests by SciPy, Page's exact distribution included, and Friedman's exact
# distribution by counting out every order. Run with: /usr/bin/python3 ranking.py
import itertools, json, random, scipy
from scipy.stats import friedmanchisquare, page_trend_test, rankdata

random.seed(4)

def exact(rows):
    k = len(rows[0]); ranks = [list(rankdata(r)) for r in rows]
    def spread(s): m = sum(s) / k; return sum((x - m) ** 2 for x in s)
    seen = spread([sum(c) for c in zip(*ranks)]); hit = total = 0
    for deal in itertools.product(*[list(itertools.permutations(r)) for r in ranks]):
        total += 1; hit += spread([sum(c) for c in zip(*deal)]) >= seen - 1e-9
    return hit / total

cases = []
for n, k, ties in [(3, 3, 0), (5, 3, 1), (4, 4, 0), (3, 4, 1), (6, 3, 1), (7, 3, 0)]:
    rows = [[random.choice([1, 2, 2, 3]) if ties else random.random() for _ in range(k)] for _ in range(n)]
    cases.append(dict(rows=rows, exact=exact(rows), friedman=list(friedmanchisquare(*zip(*rows)))))
for n, k in [(10, 5), (25, 8)]:
    rows = [[random.gauss(0.2 * j, 1) for j in range(k)] for _ in range(n)]
    cases.append(dict(rows=rows, friedman=list(friedmanchisquare(*zip(*rows)))))
pages = []
for n, k in [(3, 3), (6, 4), (8, 5), (12, 6), (20, 4)]:
    rows = [random.sample(range(1, k + 1), k) if i % 3 else list(range(1, k + 1)) for i in range(n)]
    a, e = page_trend_test(rows, method='asymptotic'), page_trend_test(rows, method='exact')
    pages.append(dict(rows=rows, statistic=float(a.statistic), p=float(a.pvalue), exact=float(e.pvalue)))
json.dump(dict(about='written by ranking.py', scipy=scipy.__version__, friedman=cases, page=pages), open('ranking.json', 'w'))
