"""The degree ladder in modern prose: rewrites written by the published definitions of the degrees, placed on the scale.

*Named* is the share of rewrites whose degree is the one at which they were written; what is off by two is counted by
itself. What another author wrote on the topic has no degree of its own: it should be said to share no telling wording.
"""

from collections import Counter

import engine
import ladder
import modern
from figures import Figures


def share(values):
    values = list(values)
    return sum(values) / max(1, len(values))


def main():
    figures = Figures("ladder-prose", "Degree ladder in modern prose, by the definitions of Clough and Stevenson (2011)")
    passages = modern.passages()
    names = [*modern.DEGREES, modern.INDEPENDENT]
    pairs = [(one, name) for name in names for one in passages]
    places = dict(zip(((one.number, name) for one, name in pairs), engine.place([(one.source, one.texts[name]) for one, name in pairs])))
    positions, off_by_two = {}, 0
    for name in names:
        placed = [(one, places[one.number, name]) for one in passages]
        positions[name] = [place["position"] for _, place in placed]
        degrees = Counter(place["degree"] for _, place in placed)
        spread = " / ".join(str(degrees[degree]) for degree in ladder.DEGREES)
        figures.record(f"{name}.position", ladder.mean(positions[name]), f"degrees {spread}")
        telling = share(place["shares_telling"] for _, place in placed)
        if name == modern.INDEPENDENT:
            figures.record(f"{name}.telling", telling, "said to share telling wording")
            continue
        wanted = modern.DEGREES[name]
        named = {odd: share(place["degree"] == wanted for one, place in placed if one.odd == odd) for odd in (True, False)}
        rank = ladder.DEGREES.index
        off_by_two += sum(abs(rank(place["degree"]) - rank(wanted)) > 1 for _, place in placed)
        figures.record(f"{name}.named", share(place["degree"] == wanted for _, place in placed), f"odd half {named[True]:.3f}, even {named[False]:.3f}")
        if name != "restructured":
            figures.record(f"{name}.telling", telling, "said to share telling wording")
    figures.record("off_by_two", off_by_two, "of all rewrites")
    for near, far in [("near", "light"), ("light", "heavy"), ("light-freer", "heavy-freer"), ("heavy", "restructured"), ("heavy-freer", "restructured")]:
        figures.record(f"auc.{near}_{far}", ladder.auc(positions[near], positions[far]))
    figures.save()


if __name__ == "__main__":
    main()
