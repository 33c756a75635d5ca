#!/usr/bin/env python3
"""Checks a Gluewright book without Gluewright: hashes, tree, order, counts, blocks, and a checkpoint if given.

    python3 check.py BOOK [CHECKPOINT]

Python's standard library only. docs/format.md describes what is checked here. It reads and never writes; give it a
copy. The log's id, size and root, as worked out from the entries, are printed in the form of a checkpoint. Exit 0:
nothing found. Exit 1: something found, one sentence a line.
"""
import base64
import hashlib
import json
import os
import sqlite3
import sys

found = []


def leaf_hash(data):
    return hashlib.sha256(b"\0" + data).digest()


def node_hash(left, right):
    return hashlib.sha256(b"\1" + left + right).digest()


class Tree:
    """The right edge of an RFC 6962 tree: the hashes of the complete subtrees it consists of, largest first."""

    def __init__(self):
        self.size, self.peaks = 0, []

    def push(self, leaf):
        """Adds a leaf; gives (level, place, hash) of each complete subtree of 256**level leaves it finishes."""
        tiles, height = [], 0
        while self.size >> height & 1:
            leaf = node_hash(self.peaks.pop(), leaf)
            height += 1
            if height % 8 == 0:
                tiles.append((height // 8, self.size >> height, leaf))
        self.peaks.append(leaf)
        self.size += 1
        return tiles

    def root(self):
        if not self.peaks:
            return hashlib.sha256(b"").digest()
        root = self.peaks[-1]
        for left in reversed(self.peaks[:-1]):
            root = node_hash(left, root)
        return root


def once(pairs):
    """JSON objects in which no key stands twice."""
    if len({key for key, _ in pairs}) != len(pairs):
        raise ValueError("a key stands twice")
    return dict(pairs)


def read(data):
    """An entry; None when its bytes are not canonical JSON. (RFC 8785; all entries' numbers are integers.)"""
    try:
        entry = json.loads(data.decode(), object_pairs_hook=once)
        again = json.dumps(entry, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()
        return entry if isinstance(entry, dict) and again == data else None
    except ValueError:
        return None


def check_entry(book, log, seq, row, run):
    columns, leaf, data = row[:-2], row[-2], row[-1]
    if leaf_hash(data) != leaf:
        found.append(f"entry {seq}: the bytes do not have their leaf hash")
    entry = read(data)
    if entry is None:
        found.append(f"entry {seq}: the bytes are not canonical JSON")
        return
    names = ("log", "seq", "id", "kind", "act", "entered_ms", "happened_ms", "order_ms")
    if tuple(entry.get(name) for name in names) != columns or (columns[0], columns[1]) != (log, seq):
        found.append(f"entry {seq}: a column differs from the bytes, or the entry stands at the wrong place")
    if entry["order_ms"] < max(run["order"], entry["entered_ms"]):
        found.append(f"entry {seq}: ordered before the entry before it, or before it was entered")
    run["order"] = entry["order_ms"]
    for about in entry["about"]:
        due = run["counts"].get(about["id"], 0) + 1
        if about["n"] != due:
            found.append(f"entry {seq}: number {about['n']} about {about['id']}, but {due} is due")
        run["counts"][about["id"]] = about["n"]
        run["about"].add((about["id"], seq, about["n"]))
    for block in entry["body"].get("blocks", []) if entry["kind"] == "readings" else []:
        got = book.execute("SELECT bytes FROM block WHERE digest = ?", (bytes.fromhex(block["sha256"]),)).fetchone()
        if got is None or hashlib.sha256(got[0]).hexdigest() != block["sha256"]:
            found.append(f"entry {seq}: the block {block['sha256']} is missing or was changed")


def check_log(book, number, log, size, edge, checkpoint):
    tree, run = Tree(), {"order": -(2**53), "counts": {}, "about": set()}
    stored = {(level, at): hash for level, at, hash in book.execute("SELECT level, at, hash FROM tile WHERE log = ?", (number,))}
    for seq in range(size + 1):
        if checkpoint and checkpoint[0] == log and checkpoint[1] == seq and checkpoint[2] != tree.root():
            found.append(f"the first {seq} entries do not have the checkpoint's root")
        row = book.execute(
            "SELECT log, seq, id, kind, act, entered_ms, happened_ms, order_ms, leaf, bytes FROM entry WHERE place = ?",
            (number << 40 | seq,),
        ).fetchone()
        if (row is None) != (seq == size):
            found.append(f"entry {seq} is missing" if row is None else f"entry {seq} stands beyond the log's end")
        if row is None or seq == size:
            break
        check_entry(book, log, seq, row, run)
        for level, at, hash in tree.push(leaf_hash(row[-1])):
            if stored.pop((level, at), None) != hash:
                found.append(f"the stored hash over entries {at << 8 * level} to {seq} does not fit them")
    if stored:
        found.append("a hash is stored over entries that are not there")
    if b"".join(tree.peaks) != edge:
        found.append(f"the right edge of log {log} does not fit its entries")
    rows = "SELECT entry.id, about.seq, n FROM about JOIN entry ON entry.place = about.subject WHERE about.log = ?"
    if set(book.execute(rows, (number,))) != run["about"]:
        found.append(f"the table about differs from what the entries of log {log} say")
    print(f"{log}\n{tree.size}\n{base64.b64encode(tree.root()).decode()}")


def main(path, checkpoint_path=None):
    checkpoint = None
    if checkpoint_path:
        log, size, root = open(checkpoint_path, encoding="ascii").read().split()
        checkpoint = (log, int(size), base64.b64decode(root, validate=True))
    book = sqlite3.connect(f"file:{os.path.abspath(path)}?mode=ro", uri=True)
    logs = book.execute("SELECT num, id, size, edge FROM log ORDER BY num").fetchall()
    for number, log, size, edge in logs:
        check_log(book, number, log, size, edge, checkpoint)
    if checkpoint and not any(log == checkpoint[0] and size >= checkpoint[1] for _, log, size, _ in logs):
        found.append(f"the checkpoint was given at {checkpoint[1]} entries of log {checkpoint[0]}: this book has fewer")
    print("\n".join(found))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
