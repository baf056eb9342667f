"""Typographic noise: the same words, other characters. Each kind is applied to every place that can carry it, or to a share."""

import re

LIGATURES = [("ffi", "ﬃ"), ("ffl", "ﬄ"), ("ff", "ﬀ"), ("fi", "ﬁ"), ("fl", "ﬂ")]

LOOKALIKES = str.maketrans("aceopxyiABCEHKMOPTX", "асеорхуіАВСЕНКМОРТХ")
"""Latin letters to the Cyrillic ones that look the same (Unicode Technical Standard 39, confusables)."""

MISREAD = [("rn", "m"), ("m", "rn"), ("l", "1"), ("cl", "d"), ("o", "0")]
"""What scanners make of letters."""


def ligatures(text, _random):
    for plain, joined in LIGATURES:
        text = text.replace(plain, joined)
    return text


def curly(text, _random):
    return text.replace("'", "’").replace(" -- ", "—")


def line_ends(text, random):
    """Lines of about 60 characters, long words broken by a hyphen at a line end where one fits."""
    lines, line = [], ""
    for word in text.split():
        if len(line) + len(word) + 1 <= 60:
            line = f"{line} {word}".strip()
        elif len(word) >= 8 and word.isalpha():
            cut = random.randint(3, len(word) - 4)
            lines.append(f"{line} {word[:cut]}-")
            line = word[cut:]
        else:
            lines.append(line)
            line = word
    return "\n".join([*lines, line])


def no_break_spaces(text, random):
    return re.sub(" ", lambda _: random.choice([" ", " ", "\u00a0", "\u202f"]), text)


def zero_width(text, random):
    return re.sub(r"(?<=\w)(?=\w)", lambda _: random.choice([""] * 7 + ["\u200b", "\u00ad", "\u2060"]), text)


def lookalikes(text, random):
    """A third of the words written with letters of another script where they look the same."""
    return re.sub(r"\w+", lambda word: word.group().translate(LOOKALIKES) if random.random() < 1 / 3 else word.group(), text)


def misread(text, random):
    """One word in eight misread at one place, among words of five letters and more."""

    def word(match):
        able = [(wrong, right) for wrong, right in MISREAD if wrong in match.group()[1:]]
        if random.random() >= 1 / 8 or not able:
            return match.group()
        wrong, right = random.choice(able)
        return match.group()[0] + match.group()[1:].replace(wrong, right, 1)

    return re.sub(r"\b[a-z]{5,}\b", word, text)


KINDS = {
    "ligatures": ligatures,
    "curly": curly,
    "line_ends": line_ends,
    "no_break_spaces": no_break_spaces,
    "zero_width": zero_width,
    "lookalikes": lookalikes,
    "misread": misread,
}
