"""Figures, their floors, and the table.

A check records its figures with `Figures`; they lie in `.outside/figures/CHECK.json` until the table is made. Every
figure has a bound in floors.json: `{"floor": 0.95}` where more is better, `{"ceiling": 0.2}` where less is, `{"look":
true}` where it is shown for orientation only; `"aim"` is where it is to get, `"margin"` how far past its bound a
figure may be before the run asks to move the bound (0.02, or 2 points, where nothing is said).
"""

import json
from pathlib import Path

from places import FIGURES

BOUNDS = Path(__file__).with_name("floors.json")
MARGIN = 0.02


class Figures:
    """The figures of one check, in the order they were recorded."""

    def __init__(self, check, about):
        self.check, self.about, self.rows = check, about, []

    def record(self, name, value, note=""):
        """One figure; `name` is unique within the check, words divided by points."""
        self.rows.append({"name": f"{self.check}.{name}", "value": round(float(value), 4), "note": str(note)})

    def save(self):
        FIGURES.mkdir(parents=True, exist_ok=True)
        content = {"about": self.about, "rows": self.rows}
        (FIGURES / f"{self.check}.json").write_text(json.dumps(content, indent=1), encoding="utf-8")
        bounds = json.loads(BOUNDS.read_text(encoding="utf-8")) if BOUNDS.exists() else {}
        print(f"\n{self.about}")
        for row in self.rows:
            print(line(row, bounds.get(row["name"])))


def verdict(row, bound):
    """How a figure stands to its bound: (fails, words)."""
    value = row["value"]
    if bound is None:
        return True, "NO BOUND: add one to floors.json"
    if bound.get("look"):
        return False, ""
    margin = bound.get("margin", MARGIN)
    if "floor" in bound:
        if value < bound["floor"]:
            return True, f"BELOW {bound['floor']:g}"
        aim = bound.get("aim")
        short = f", aim {aim:g}" if aim is not None and value < aim else ""
        if value > bound["floor"] + margin + 1e-9:
            return False, f"raise the floor {bound['floor']:g}{short}"
        return False, f"floor {bound['floor']:g}{short}"
    if value > bound["ceiling"]:
        return True, f"ABOVE {bound['ceiling']:g}"
    aim = bound.get("aim")
    short = f", aim {aim:g}" if aim is not None and value > aim else ""
    if value < bound["ceiling"] - margin - 1e-9:
        return False, f"lower the ceiling {bound['ceiling']:g}{short}"
    return False, f"ceiling {bound['ceiling']:g}{short}"


def line(row, bound):
    return f"  {row['name']:<44} {row['value']:>9.4f}  {verdict(row, bound)[1]:<34} {row['note']}".rstrip()
