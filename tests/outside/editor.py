"""A small reproducible editor: what writers, scanners and word processors do to a sentence.

Sentences come with Brown's tags (see prose.py). Each edit takes a random generator and says nothing (None) where a
sentence does not lend itself to it.
"""

import re

import prose
import wordnet

FUNCTION_LIKE = {"said", "mr.", "mrs.", "dr."}
FILLERS = "also often perhaps rather quite clearly indeed certainly really still generally simply largely mostly likewise".split()

PARTICIPLES = dict(
    pair.split("/")
    for pair in "made/made found/found took/taken gave/given saw/seen wrote/written held/held kept/kept brought/brought "
    "built/built led/led won/won lost/lost sent/sent heard/heard knew/known met/met chose/chosen told/told left/left "
    "paid/paid read/read drew/drawn bought/bought caught/caught taught/taught sold/sold drove/driven threw/thrown".split()
)


def bare(tag):
    """A tag without what Brown adds for titles and headings."""
    return re.sub(r"-(tl|hl|nc)$", "", tag)


def content_places(tokens):
    """Places of the content words among the tokens."""
    return [
        at
        for at, (word, tag) in enumerate(tokens)
        if wordnet.CONTENT.match(tag) and word.lower() not in FUNCTION_LIKE and any(map(str.isalnum, word))
    ]


def synonyms(sentence, random, share):
    """`share` of the content words, rounded to whole words, replaced by synonyms."""
    places = content_places(sentence.tokens)
    wanted = round(share * len(places))
    swaps = {at: wordnet.synonym(sentence.tokens[at][0], bare(sentence.tokens[at][1])) for at in places}
    able = [at for at in places if swaps[at]]
    if len(able) < wanted or wanted == 0:
        return None
    chosen = set(random.sample(able, wanted))
    return prose.join(swaps[at] if at in chosen else word for at, (word, _) in enumerate(sentence.tokens))


def clauses_swapped(sentence, random):
    """The second clause first, at a comma or a conjunction in the middle of the sentence."""
    text = sentence.text.rstrip(".")
    joints = [
        match
        for match in re.finditer(r", (?:and|but|for|so|while|although|because|which) |, |; | (?:because|while|when|although|before|after|since|until) ", text)
        if len(text[: match.start()].split()) >= 5 and len(text[match.end() :].split()) >= 5
    ]
    if not joints or not sentence.text.endswith("."):
        return None
    joint = random.choice(joints)
    joiner = joint.group().strip(" ,;")
    first, second = text[: joint.start()], text[joint.end() :]
    if joiner in ("because", "while", "when", "although", "before", "after", "since", "until"):
        return f"{joiner.capitalize()} {second}, {lowered(first, sentence)}."
    return f"{second[:1].upper()}{second[1:]}, {lowered(first, sentence)}."


def lowered(text, sentence):
    """A sentence's beginning in lower case unless its first word is a name or `I`."""
    word, tag = sentence.tokens[0]
    return text if tag.startswith("np") or word in ("I", "I'm", "I'll", "I've", "I'd") else text[:1].lower() + text[1:]


def dropped_and_inserted(sentence, random, share):
    """`share` of the words dropped, and as many fillers put in elsewhere."""
    words = list(sentence.tokens)
    able = [at for at, (word, _) in enumerate(words) if at and any(map(str.isalnum, word))]
    count = round(share * sentence.words)
    if count == 0 or len(able) <= count:
        return None
    gone = set(random.sample(able, count))
    kept = [word for at, (word, _) in enumerate(words) if at not in gone]
    for _ in range(count):
        kept.insert(random.randrange(1, len(kept)), random.choice(FILLERS))
    return prose.join(kept)


SUBJECTS = {"he": "him", "she": "her", "they": "them", "we": "us", "i": "me"}
NOUN_PHRASE = re.compile(r"^(at|ap|dt|dti|dts|pp\$|jj|nn|nns|np|cd|nn\$|np\$|jjt|jjr|vbn)$")
NOUN = re.compile(r"^(nn|nns|np)$")


def passive(sentence, _random):
    """Subject, past verb, object turned to object, was/were, participle, by, subject: the rest stays behind."""
    tokens = [(word, bare(tag)) for word, tag in sentence.tokens]
    verb = next((at for at, (_, tag) in enumerate(tokens) if tag == "vbd"), None)
    if not verb or verb > 8:
        return None
    subject = tokens[:verb]
    pronoun = len(subject) == 1 and subject[0][0].lower() in SUBJECTS
    if not pronoun and not (all(NOUN_PHRASE.match(tag) for _, tag in subject) and NOUN.match(subject[-1][1])):
        return None
    end = verb + 1
    while end < len(tokens) and NOUN_PHRASE.match(tokens[end][1]):
        end += 1
    word = tokens[verb][0]
    participle = PARTICIPLES.get(word) or (word if word.endswith("ed") else None)
    if end < verb + 3 or not NOUN.match(tokens[end - 1][1]) or not participle:
        return None
    thing, rest = [word for word, _ in tokens[verb + 1 : end]], [word for word, _ in tokens[end:]]
    be = "were" if tokens[end - 1][1] == "nns" else "was"
    agent = [SUBJECTS[subject[0][0].lower()]] if pronoun else [word for word, _ in subject]
    if not subject[0][1].startswith("np"):
        agent[0] = agent[0][:1].lower() + agent[0][1:]
    text = prose.join([*thing, be, participle, "by", *agent, *rest])
    return text[:1].upper() + text[1:]


def merged(first, second, random):
    """Two sentences made one."""
    if not (first.text.endswith(".") and second.text.endswith(".")):
        return None
    return first.text[:-1] + random.choice([", and ", "; ", ", while "]) + lowered(second.text, second)


def split(sentence, random):
    """One sentence made two, at a conjunction or a relative."""
    joints = [
        match
        for match in re.finditer(r",? (and|but|which|who|while|because|so) ", sentence.text)
        if len(sentence.text[: match.start()].split()) >= 5 and len(sentence.text[match.end() :].split()) >= 5
    ]
    if not joints:
        return None
    joint = random.choice(joints)
    begin = {"which": "This ", "who": "They ", "but": "But "}.get(joint.group(1), "")
    rest = sentence.text[joint.end() :]
    rest = rest if begin else rest[:1].upper() + rest[1:]
    return f"{sentence.text[: joint.start()]}. {begin}{rest}"
