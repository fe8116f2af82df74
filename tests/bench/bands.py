"""Times NumPy's percentile over runs in memory, in bins of rows; one JSON line."""

import json
import sys
import time

import numpy as np

folder, runs, rows, channels, bins = sys.argv[1], *map(int, sys.argv[2:6])
random = np.random.default_rng(1)
values = random.standard_normal((channels, bins, runs * rows // bins))
at_place = np.fromfile(f"{folder}/place.f64")

seconds = []
for _ in range(5):
    start = time.perf_counter()
    np.percentile(values, [5, 50, 95], axis=-1)
    seconds.append(time.perf_counter() - start)

print(
    json.dumps(
        {
            "numpy": np.__version__,
            "seconds": min(seconds),
            "place": [float(v) for v in np.percentile(at_place, [5, 50, 95])],
        }
    )
)
