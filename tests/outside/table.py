"""The closing table of all figures, and the verdict: exit status 1 where a bound is missed, or stands idle."""

import json
import sys

from figures import BOUNDS, line, verdict
from places import FIGURES


def main(checks):
    bounds = json.loads(BOUNDS.read_text(encoding="utf-8"))
    failed, seen = [], set()
    for check in checks:
        path = FIGURES / f"{check}.json"
        if not path.exists():
            failed.append(f"{check}: left no figures")
            continue
        content = json.loads(path.read_text(encoding="utf-8"))
        print(f"\n{content['about']}")
        for row in content["rows"]:
            bound = bounds.get(row["name"])
            fails, words = verdict(row, bound)
            print(line(row, bound))
            seen.add(row["name"])
            if fails:
                failed.append(f"{row['name']} {row['value']:g}: {words}")
    idle = [name for name in bounds if name.split(".")[0] in checks and name not in seen]
    failed += [f"{name}: has a bound but no figure; a check was lost" for name in idle]
    passed = len(seen) - sum(1 for row in failed if row.split(" ")[0] in seen)
    print()
    for row in failed:
        print(f"MISSED {row}")
    print(f"\nfigures: {passed} passed, {len(failed)} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
