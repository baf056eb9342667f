"""Peers: ownwords beside general methods, all at the threshold that gives the same false-alarm rate.

A query is a single verse (12 words or more) of a translation; does its wording come from the source's New Testament, and
from which verse? Each method gives a query its best score over all verses of the source. The threshold is the score that
0.5 % of the negatives exceed; the figure is the share of queries above it. *Easy* negatives are sentences of independent
prose (12 words or more, without those that quote the source), *hard* ones Old Testament verses of the `asv`, raw: some
of them are quoted in the New Testament. *Fair* takes those out that share eight words in a row with it.

Methods: TF-IDF cosine (scikit-learn, word unigrams, sublinear, idf from the sources); RapidFuzz token_set_ratio on the 60
best verses by TF-IDF (a full comparison takes too long); word 3- and 5-gram containment (share of the query's n-grams in the
verse); sentence embeddings (embeddings.py). The matrix of all methods goes to `.outside/peers.txt`.
"""

import time

import numpy as np

import embeddings
import engine
import finding
import prose
import verses
from figures import Figures
from places import FULL, OUTSIDE, seeded

QUERIES, NEGATIVES = (1000, 2000) if FULL else (400, 1000)
FALSE_ALARMS = 0.005


def queries(name):
    """Sampled verses of a translation: (verse, text), the same verses for each as far as they align."""
    order = {verse: seeded(f"peers {verse}").random() for verse in verses.aligned(name)[0]}
    other = verses.new_testament(name)
    return [(verse, other[verse]) for verse in sorted(order, key=order.get)[:QUERIES]]


def negatives():
    """The three kinds of negatives: name to texts."""
    quoted = verses.runs_of_words(8)
    owes_nothing = lambda text: not verses.word_runs(text, 8) & quoted
    easy = [
        sentence.text
        for name in prose.names(*prose.GROUPS)
        for block in prose.paragraphs(name)
        for sentence in block
        if sentence.words >= verses.LEAST_WORDS and not sentence.quotes and owes_nothing(sentence.text)
    ]
    hard = [text for _, text in sorted(verses.old_testament("asv").items()) if len(verses.words(text)) >= verses.LEAST_WORDS]
    hard = seeded("peers hard").sample(hard, NEGATIVES)
    return {
        "easy": seeded("peers easy").sample(easy, NEGATIVES),
        "hard": hard,
        "fair": [text for text in hard if owes_nothing(text)],
    }


class Sources:
    """The verses of the source's New Testament that queries are set against."""

    def __init__(self):
        verse_texts = verses.new_testament(verses.SOURCE)
        self.verses = sorted(verse_texts)
        self.texts = [verse_texts[verse] for verse in self.verses]


def best(scores):
    """Highest score and its place, row by row."""
    at = scores.argmax(1)
    return scores[np.arange(len(at)), at], at


def in_parts(texts, score, part=500):
    """Runs a method over parts of the queries, so that no matrix grows large."""
    results = [best(score(texts[at : at + part])) for at in range(0, len(texts), part)]
    return np.concatenate([one[0] for one in results]), np.concatenate([one[1] for one in results])


def tfidf(sources):
    from sklearn.feature_extraction.text import TfidfVectorizer

    vectorizer = TfidfVectorizer(sublinear_tf=True, token_pattern=r"[^\W_]+(?:'[^\W_]+)*")
    matrix = vectorizer.fit_transform(sources.texts).T.tocsc()
    return lambda texts: (vectorizer.transform(texts) @ matrix).toarray()


def fuzzy(sources):
    from rapidfuzz import fuzz, process, utils

    nearest, ready = tfidf(sources), [utils.default_process(text) for text in sources.texts]

    def scores(texts):
        result = np.zeros((len(texts), len(ready)), dtype=np.float32)
        close = np.argpartition(-nearest(texts), 60, axis=1)[:, :60]
        for row, text in enumerate(texts):
            chosen = [ready[at] for at in close[row]]
            result[row, close[row]] = process.cdist([utils.default_process(text)], chosen, scorer=fuzz.token_set_ratio)[0]
        return result

    return scores


def containment(length):
    def method(sources):
        from sklearn.feature_extraction.text import CountVectorizer

        vectorizer = CountVectorizer(analyzer=lambda text: list(verses.word_runs(text, length)), binary=True)
        matrix = vectorizer.fit_transform(sources.texts).T.tocsc().astype(np.float32)

        def scores(texts):
            sizes = np.array([max(1, len(verses.word_runs(text, length))) for text in texts], dtype=np.float32)
            return (vectorizer.transform(texts) @ matrix).toarray() / sizes[:, None]

        return scores

    return method


def embedded(sources):
    vectors = embeddings.embed(sources.texts).T
    return lambda texts: embeddings.embed(texts) @ vectors


PEERS = {"tfidf": tfidf, "fuzzy": fuzzy, "3-grams": containment(3), "5-grams": containment(5), "embeddings": embedded}


def ownwords_scores(texts, sources):
    """ownwords' sureness and source verse for each query, from `place --review`."""
    books, ranges = finding.books()
    where = OUTSIDE / "work" / "peers"
    if not where.exists():
        engine.review(engine.folder("peers"), books)
    places = {}
    for number, verse in enumerate(sources.verses):
        places.setdefault(verses.key_of(verse), []).append((*ranges[verse], number))
    scores, at = np.zeros(len(texts)), np.zeros(len(texts), dtype=int)
    for row, (sureness, origin) in enumerate(engine.trace(where, texts)):
        scores[row] = sureness
        if origin:
            shares = [
                (min(origin["end"], end) - max(origin["start"], start), -number)
                for start, end, number in places[origin["key"]]
            ]
            at[row] = -max(shares)[1]
    return scores, at


def threshold(scores):
    """The score that the allowed share of negatives exceed at most."""
    return np.sort(scores)[::-1][int(FALSE_ALARMS * len(scores))]


def main():
    figures = Figures("peers", "Peers: share of single verses found at 0.5 % false alarms, ownwords' column against others")
    sources, against = Sources(), negatives()
    asked = {name: queries(name) for name in verses.TRANSLATIONS}
    texts = {**against, **{name: [text for _, text in asked[name]] for name in asked}}
    scores = {"ownwords": {name: ownwords_scores([verses.sentence(text) for text in texts[name]], sources) for name in texts}}
    for peer, method in PEERS.items():
        begin, score = time.perf_counter(), method(sources)
        scores[peer] = {name: in_parts(texts[name], score) for name in texts}
        print(f"{peer}: {time.perf_counter() - begin:.1f} s")
    listing = [f"{'':<12}" + "".join(f"{method:>24}" for method in scores), "(found, found with the right verse best)"]
    for kind in against:
        leads = []
        for name in asked:
            found, right = {}, {}
            for method, results in scores.items():
                values, at = results[name]
                above = values > threshold(results[kind][0])
                fits = np.array([sources.verses[place] == verse for place, (verse, _) in zip(at, asked[name])])
                found[method], right[method] = above.mean(), (above & fits).mean()
            peer = max(PEERS, key=found.get)
            leads.append(found["ownwords"] - found[peer])
            note = f"right verse {right['ownwords']:.3f}; best peer {peer} {found[peer]:.3f} ({right[peer]:.3f})"
            figures.record(f"{kind}.{name}", found["ownwords"], note)
            listing.append(f"{kind} {name:<7}" + "".join(f"{found[one]:>16.3f} {right[one]:.3f}" + "  " for one in scores))
        figures.record(f"{kind}.lead", min(leads), "least lead over the best peer, in shares")
    (OUTSIDE / "peers.txt").write_text("\n".join(listing) + "\n", encoding="utf-8")
    print("\n".join(listing))
    figures.save()


if __name__ == "__main__":
    main()
