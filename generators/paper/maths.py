"""MathML, as the site prints it, as nodes that the typesetter's template reads; and in words for a screen reader."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from typing import Any

Node = dict[str, Any]


def _node(element: ET.Element) -> Node:
    tag = element.tag.rpartition("}")[2]
    kids = [_node(one) for one in element]
    text = (element.text or "").strip()
    if tag in ("math", "mrow", "mstyle"):
        fenced = len(kids) > 1 and (kids[0].get("t"), kids[-1].get("t")) in (("(", ")"), ("|", "|"))
        return {"m": "lr" if fenced else "row", "c": kids}
    if tag == "mi":
        return {"m": "op" if len(text) > 1 else "up" if element.get("mathvariant") == "normal" else "it", "t": text}
    if tag in ("mn", "mtext"):
        return {"m": "num", "t": text}
    if tag == "mo":
        return {"m": "op" if len(text) > 1 else "sym", "t": text}
    if tag == "mspace":
        return {"m": "sp"}
    if tag == "msqrt":
        return {"m": "sqrt", "a": {"m": "row", "c": kids}}
    parts = {"mfrac": ("a", "b"), "msub": ("a", "b"), "msup": ("a", "t"), "msubsup": ("a", "b", "t")}
    if tag not in parts:
        raise ValueError(f"the typeset book has no way to print <{tag}> in a formula")
    return {"m": "frac" if tag == "mfrac" else "att", **dict(zip(parts[tag], kids, strict=True))}


def maths(line: str) -> Node:
    """One `<math>` element as a node. ValueError for an element that the template cannot set."""
    return _node(ET.fromstring(line))


def broken(node: Node) -> list[Node]:
    """A line cut where it may go on in the next: before each sign of the outermost sum, and never between a sign and what it belongs to."""
    while node["m"] == "row" and len(node["c"]) == 1:
        node = node["c"][0]
    if node["m"] != "row":
        return [node]
    pieces: list[list[Node]] = [[]]
    equal = False
    for place, one in enumerate(node["c"]):
        sign = one.get("t") if one["m"] == "sym" else None
        if sign in ("+", "−", "-") and equal and pieces[-1] and node["c"][place - 1]["m"] != "sym":
            pieces.append([])
        equal |= sign == "="
        pieces[-1].append(one)
    return [{"m": "row", "c": one} for one in pieces]


def spoken(node: Node) -> str:
    """The node as plain words and signs."""
    kind = node["m"]
    if kind in ("row", "lr"):
        return " ".join(filter(None, map(spoken, node["c"])))
    if kind == "frac":
        return f"({spoken(node['a'])}) / ({spoken(node['b'])})"
    if kind == "sqrt":
        return f"√({spoken(node['a'])})"
    if kind == "att":
        low = "_" + spoken(node["b"]).replace(" ", "") if "b" in node else ""
        high = f"^({spoken(node['t'])})" if "t" in node else ""
        return spoken(node["a"]) + low + high
    return str(node.get("t", ""))
