"""How well passages were found: precision, recall and granularity at the level of characters.

Potthast, Stein, Barron-Cedeno and Rosso (2010), An Evaluation Framework for Plagiarism Detection, COLING 2010,
section 3. A case s is a passage of a draft with the passage of the source it comes from, taken as the set of references to
the characters of both; so is a detection r. r detects s if they overlap in the draft and in the source. Then

    precision(S, R)   = 1/|R|   sum over r of |union over s of (s & r)| / |r|
    recall(S, R)      = 1/|S|   sum over s of |union over r of (s & r)| / |s|
    granularity(S, R) = 1/|S_R| sum over s in S_R of |R_s|

where s & r holds the common characters if r detects s, else none; S_R are the cases detected and R_s the
detections of s. The framework combines them as F1 / log2(1 + granularity); they are kept apart here, since they call for
different work. Positions are bytes here; the texts are ASCII but for quotation marks, so bytes are as good as characters.
"""

from collections import namedtuple

Case = namedtuple("Case", "draft start end source source_start source_end")
"""A passage [start, end) of a draft and [source_start, source_end) of a source. Detections have the same form."""


def common(one, other):
    """The two ranges (draft, source) that a case and a detection share, or None where it is not detected."""
    if (one.draft, one.source) != (other.draft, other.source):
        return None
    draft = (max(one.start, other.start), min(one.end, other.end))
    source = (max(one.source_start, other.source_start), min(one.source_end, other.source_end))
    return (draft, source) if draft[0] < draft[1] and source[0] < source[1] else None


def size(case):
    return case.end - case.start + case.source_end - case.source_start


def covered(shares):
    """Number of positions in the union of ranges."""
    total, last = 0, None
    for start, end in sorted(shares):
        start = start if last is None else max(start, last)
        total += max(0, end - start)
        last = end if last is None else max(last, end)
    return total


def _share(one, others):
    shares = [shared for shared in (common(one, other) for other in others) if shared]
    return sum(covered([share[side] for share in shares]) for side in (0, 1)) / max(1, size(one))


def _by_draft(items):
    result = {}
    for item in items:
        result.setdefault(item.draft, []).append(item)
    return result


def recall(cases, detections):
    found = _by_draft(detections)
    return sum(_share(case, found.get(case.draft, [])) for case in cases) / max(1, len(cases))


def precision(cases, detections):
    planted = _by_draft(cases)
    return sum(_share(one, planted.get(one.draft, [])) for one in detections) / max(1, len(detections))


def granularity(cases, detections):
    found = _by_draft(detections)
    counts = [sum(1 for one in found.get(case.draft, []) if common(case, one)) for case in cases]
    counts = [count for count in counts if count]
    return sum(counts) / len(counts) if counts else 1.0


def draft_side(cases, detections):
    """Recall and precision over the draft's characters alone, micro-averaged: what a reader of the draft sees."""
    planted, found = _by_draft(cases), _by_draft(detections)
    both = total_planted = total_found = 0
    for draft in set(planted) | set(found):
        one = [(case.start, case.end) for case in planted.get(draft, [])]
        other = [(case.start, case.end) for case in found.get(draft, [])]
        sizes = covered(one), covered(other)
        both += sizes[0] + sizes[1] - covered(one + other)
        total_planted += sizes[0]
        total_found += sizes[1]
    return both / max(1, total_planted), both / max(1, total_found)
