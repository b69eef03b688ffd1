"""The JSON Schema of the job file, made from what the styles declare."""

from __future__ import annotations

from typing import Any

from .features import KINDS, SHAPES
from .job import FORMATS, SUPPORT, Output, SizeKind
from .load import CHOICES, KEYS
from .registry import iter_styles
from .style.contract import Style
from .style.parameter import Kind, Parameter

__all__ = ["job_schema"]

_LENGTH = {
    "oneOf": [
        {"type": "number"},
        {"type": "string", "description": "a number with mm, cm or in, such as '1 1/4 in'"},
    ]
}

_COUNT = {"type": "integer", "minimum": 1, "maximum": 1000}
_LOAD: dict[str, dict[str, Any]] = {
    "pallet": {"type": "string"},
    "per_layer": _COUNT,
    "layers": _COUNT,
    "pallets": _COUNT,
    "gaps": {"type": "boolean"},
}


def job_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a job file, with the options of every installed style."""
    styles = [style for style in iter_styles() if isinstance(style, Style)]
    text = {"type": "string"}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "dieline job",
        "type": "object",
        "required": ["style", "size", "board"],
        "additionalProperties": False,
        "properties": {
            "style": {
                "type": "string",
                "description": "code of the style; slotted codes may be paired, bottom then top: 0201/0204",
                "anyOf": [{"enum": [style.code for style in styles]}, {"pattern": "^[^/]+/[^/]+$"}],
            },
            "size": {"type": "string", "description": "length x breadth x height, a fourth size after a stroke"},
            "size_is": {"enum": [kind.value for kind in SizeKind], "default": "inside"},
            "unit": {"enum": ["mm", "cm", "in"], "default": "mm", "description": "unit of bare numbers in size"},
            "board": {"type": "string", "description": "name of a board in the library or in the board file"},
            "name": text,
            "revision": text,
            "note": text,
            "options": {"type": "object"},
            "feature": {"type": "array", "items": _feature()},
            "folds": {
                "type": "object",
                "additionalProperties": {"enum": ["crease", "perforated", "cut-crease", "reverse crease"]},
            },
            "contents": {"type": "object", "properties": {"mass": _LENGTH}, "additionalProperties": False},
            "load": _load(),
            "files": {
                "type": "object",
                "properties": {
                    name: {"type": ["string", "object"], "description": kind} for name, kind in SUPPORT.items()
                },
                "additionalProperties": False,
            },
            "output": _output(),
        },
        "allOf": [
            {
                "if": {"properties": {"style": {"const": style.code}}},
                "then": {"properties": {"options": _options(style)}},
            }
            for style in styles
        ],
    }


def _feature() -> dict[str, Any]:
    return {
        "type": "object",
        "required": ["kind", "panel"],
        "additionalProperties": False,
        "properties": {
            "kind": {
                "enum": list(KINDS),
                "description": "; ".join(f"{kind}: {words}" for kind, words in KINDS.items()),
            },
            "panel": {"type": "string"},
            "width": _LENGTH,
            "height": _LENGTH,
            "shape": {"enum": list(SHAPES)},
            "radius": _LENGTH,
            "at": {"type": "array", "items": _LENGTH, "minItems": 2, "maxItems": 2},
            "left_in": {"type": "boolean"},
            "edge": {"enum": ["top", "bottom", "left", "right"]},
            "upright": {"type": "boolean"},
        },
    }


def _load() -> dict[str, Any]:
    number = {"type": ["number", "string"]}
    return {
        "type": "object",
        "description": "what stands on the box: see docs/stacking.md",
        "additionalProperties": False,
        "properties": {
            key: {"enum": list(CHOICES[key])} if key in CHOICES else dict(_LOAD.get(key, number)) for key in KEYS
        },
    }


def _output() -> dict[str, Any]:
    default = Output()
    return {
        "type": "object",
        "additionalProperties": False,
        "properties": {
            "formats": {
                "type": "array",
                "items": {"enum": list(FORMATS)},
                "minItems": 1,
                "default": list(default.formats),
            },
            "dxf": {"enum": ["R2010", "R12"], "default": default.dxf},
            "unit": {"enum": ["mm", "in"], "default": default.unit},
            "arcs": {"enum": ["bulge", "separate"], "default": default.arcs},
            "side": {"enum": ["inside", "print"], "default": default.side},
            "notes": {"type": "boolean", "default": default.notes},
            "carry_job": {"type": "boolean", "default": default.carry_job},
        },
    }


def _options(style: Style) -> dict[str, Any]:
    return {
        "type": "object",
        "additionalProperties": False,
        "properties": {parameter.name: _parameter(parameter) for parameter in style.parameters},
    }


def _parameter(parameter: Parameter) -> dict[str, Any]:
    out: dict[str, Any] = {"description": parameter.help}
    if parameter.kind is Kind.CHOICE:
        out["enum"] = list(parameter.choices or ())
    elif parameter.kind is Kind.SWITCH:
        out["type"] = "boolean"
    elif parameter.kind is Kind.LENGTH:
        out.update(_LENGTH)
    elif parameter.kind is Kind.COUNT:
        out["type"] = "integer"
    else:
        out["type"] = "number"
    if not callable(parameter.default):
        out["default"] = parameter.default
    if parameter.kind not in (Kind.CHOICE, Kind.SWITCH, Kind.LENGTH):
        for key, limit in (("minimum", parameter.low), ("maximum", parameter.high)):
            if not callable(limit) and abs(limit) < 1e308:
                out[key] = limit
    return out
