# Writes range-tail-scipy.json: upper tails of the studentized range by scipy.stats.studentized_range.sf, which
# integrates in two dimensions. Run with: /usr/bin/python3 range_tail.py
import json, scipy
from scipy.stats import studentized_range
rows = [(q, k, df) for q in (0.5, 2.0, 3.5, 5.0, 8.0, 15.0) for k in (3, 6, 15, 30) for df in (1.0, 1.5, 2.0, 3.0, 9.3, 40.0, 600.0)]
out = [dict(q=q, k=k, df=df, p=float(studentized_range.sf(q, k, df))) for q, k, df in rows]
json.dump(dict(about='written by range_tail.py', scipy=scipy.__version__, rows=out), open('range-tail-scipy.json', 'w'))
