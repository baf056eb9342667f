"""The degree ladder: rewrites whose distance from the source is known beforehand, placed on the scale.

Every aligned verse of each translation is placed against the source's verse, alone and five in a row. For neighbours of
the lineage akjv < asv < web < wmth the AUC says how often the farther one is placed farther: the area under the
ROC curve, which equals the Mann-Whitney U statistic over the number of pairs, ties counting half (Hanley and McNeil
1982, Radiology 143(1)). Nothing is trained. Figures for odd and even books stand side by side in the notes.
"""

from collections import Counter

import engine
import verses
from figures import Figures
from places import FULL, seeded

SINGLE, FIVES = (7000, 1500) if FULL else (2000, 1000)
DEGREES = ["verbatim", "near copy", "light revision", "heavy revision", "restructured"]


def auc(nearer, farther):
    """How often a value of `farther` lies above one of `nearer`, ties counting half."""
    from scipy.stats import rankdata

    ranks = rankdata(nearer + farther)
    above = ranks[len(nearer) :].sum() - len(farther) * (len(farther) + 1) / 2
    return above / (len(nearer) * len(farther))


def sample(name, length):
    """Runs of `length` verses (as tuples), the same for every translation as far as they align."""
    if length == 1:
        runs = [(verse,) for verse in verses.aligned(name)[0]]
    else:
        runs = verses.runs(name, length)
    wanted = SINGLE if length == 1 else FIVES
    order = {run: seeded(f"ladder {run}").random() for run in runs}
    return sorted(sorted(runs, key=order.get)[:wanted])


def placed(name, length):
    """The runs of a translation and where they were placed."""
    source, other = verses.new_testament(verses.SOURCE), verses.new_testament(name)
    runs = sample(name, length)
    text = lambda version, run: " ".join(version[verse] for verse in run)
    return runs, engine.place([(text(source, run), text(other, run)) for run in runs])


def mean(values):
    values = list(values)
    return sum(values) / len(values) if values else 0.0


def main():
    figures = Figures("ladder", "Degree ladder: translations of one source, position 0 verbatim to 1 nothing kept")
    for length, label in [(1, "single"), (5, "five")]:
        positions = {}
        for name in verses.TRANSLATIONS:
            runs, places = placed(name, length)
            positions[name] = {"all": [place["position"] for place in places]}
            for half, odd in [("odd", True), ("even", False)]:
                positions[name][half] = [
                    place["position"] for run, place in zip(runs, places) if verses.odd(run[0]) == odd
                ]
            degrees = Counter(place["degree"].replace("-", " ") for place in places)
            unknown = set(degrees) - set(DEGREES)
            assert not unknown, f"degrees this check does not know: {unknown}"
            spread = " / ".join(f"{100 * degrees[degree] / len(places):.0f}" for degree in DEGREES)
            dropped = f", {verses.aligned(name)[1]} dropped" if length == 1 else ""
            share = mean(place["measures"]["string_share"] for place in places)
            figures.record(f"{label}.{name}.position", mean(positions[name]["all"]), f"degrees % {spread}")
            figures.record(f"{label}.{name}.string_share", share, f"n {len(places)}{dropped}")
        for near, far in zip(verses.LINEAGE, verses.LINEAGE[1:]):
            halves = [auc(positions[near][half], positions[far][half]) for half in ("odd", "even")]
            figures.record(
                f"{label}.auc.{near}-{far}",
                auc(positions[near]["all"], positions[far]["all"]),
                f"odd books {halves[0]:.3f}, even {halves[1]:.3f}",
            )
    figures.save()


if __name__ == "__main__":
    main()
