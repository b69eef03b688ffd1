"""The description of the interface, made from the same tables that the product works with."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..features import KINDS, SHAPES
from ..job import FORMATS, SizeKind

__all__ = ["MARK", "openapi_data"]

_LENGTH = {"oneOf": [{"type": "number"}, {"type": "string"}]}
_ERRORS = {
    "400": "no JSON, or none that can be read",
    "403": "a guest from another site, or under another name",
    "413": "the body is too large",
    "415": "the body is not said to be JSON",
    "422": "the order cannot be: each problem says where, what, why and what to do",
    "500": "a style ended the process that drew it",
    "503": "too many questions wait already",
    "504": "it takes too long",
}


def openapi_data(styles: Sequence[str], boards: Sequence[str], kinds: Sequence[str]) -> dict[str, Any]:
    """The OpenAPI 3.1 description.

    Args:
        styles: Codes of the styles.
        boards: Names of the boards in the library.
        kinds: What can be taken away.
    """
    job = {"$ref": "#/components/schemas/Job"}
    wish = {
        "type": "object",
        "required": ["job", "kind"],
        "additionalProperties": False,
        "properties": {"job": job, "kind": {"enum": list(kinds)}},
    }
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "dieline preview",
            "version": "1",
            "description": "Draws a job and hands out its files. Lengths are in mm.",
        },
        "paths": {
            "/api/draw": _post("A job drawn, proved and explained.", job, "Drawn"),
            "/api/form": _post("What a style asks for, with ranges for this size and board.", job, "Form"),
            "/api/files": _post("Files of one kind, written and read back.", wish, "Files"),
            "/api/catalogue": _get("Styles and boards to choose from.", "Catalogue"),
            "/api/openapi.json": _get("This description.", "Description"),
            "/api/watched": _get("The job file that the server was started on.", "Watched", _SEEN),
        },
        "components": {"schemas": {**_answers(), "Job": _job(styles, boards), "Error": _error()}},
    }


MARK = 64
"""Characters that the mark of a state has at most."""

_SEEN = {
    "name": "seen",
    "in": "query",
    "required": False,
    "description": "the mark of the state that the page shows; an unchanged file is not sent again",
    "schema": {"type": "string", "maxLength": MARK},
}


def _post(summary: str, body: dict[str, Any], answer: str) -> dict[str, Any]:
    content = {"application/json": {"schema": body}}
    codes = ("400", "403", "413", "415", "422", "500", "503", "504")
    return {
        "post": {
            "summary": summary,
            "requestBody": {"required": True, "content": content},
            "responses": _responses(answer, codes),
        }
    }


def _get(summary: str, answer: str, *parameters: dict[str, Any]) -> dict[str, Any]:
    codes = ("403", "422", "500", "503", "504")
    return {"get": {"summary": summary, "parameters": list(parameters), "responses": _responses(answer, codes)}}


def _responses(answer: str, codes: Sequence[str]) -> dict[str, Any]:
    def told(words: str, schema: str) -> dict[str, Any]:
        reference = {"$ref": f"#/components/schemas/{schema}"}
        return {"description": words, "content": {"application/json": {"schema": reference}}}

    return {"200": told("answered", answer), **{code: told(_ERRORS[code], "Error") for code in codes}}


def _object(*required: str) -> dict[str, Any]:
    return {"type": "object", "required": list(required)}


def _answers() -> dict[str, Any]:
    file = _object("name", "kind", "media", "text")
    return {
        "Drawn": _object("job", "style", "report", "scene", "form"),
        "Form": _object("fourth", "fields"),
        "Files": {**_object("files"), "properties": {"files": {"type": "array", "items": file}}},
        "Catalogue": _object("styles", "broken", "boards", "formats"),
        "Description": _object("openapi", "paths"),
        "Watched": {
            **_object("watching", "seen"),
            "properties": {"watching": {"type": "boolean"}, "seen": {"type": "string"}},
        },
    }


def _error() -> dict[str, Any]:
    problem = {
        **_object("where", "what", "must", "cure", "line", "text"),
        "properties": {
            **{key: {"type": "string"} for key in ("where", "what", "must", "cure", "text")},
            "line": {"type": ["integer", "null"]},
        },
    }
    error = {
        **_object("status", "kind", "problems"),
        "properties": {
            "status": {"type": "integer"},
            "kind": {"type": "string"},
            "problems": {"type": "array", "items": problem},
        },
    }
    return {**_object("error"), "additionalProperties": False, "properties": {"error": error}}


def _job(styles: Sequence[str], boards: Sequence[str]) -> dict[str, Any]:
    text = {"type": "string"}
    carried = {
        "type": "object",
        "required": ["text"],
        "additionalProperties": False,
        "properties": {"text": text, "name": text},
    }
    return {
        "type": "object",
        "required": ["style", "size", "board"],
        "additionalProperties": False,
        "properties": {
            "style": {"type": "string", "examples": list(styles), "description": "a code, or bottom/top of a pair"},
            "size": {"type": "string", "examples": ["300x200x150", "355x205x120/40"]},
            "size_is": {"enum": [kind.value for kind in SizeKind]},
            "unit": {"enum": ["mm", "cm", "in"]},
            "board": {"type": "string", "examples": list(boards)},
            "name": text,
            "revision": text,
            "note": text,
            "options": {"type": "object", "additionalProperties": {"type": ["number", "string", "boolean"]}},
            "folds": {
                "type": "object",
                "additionalProperties": {"enum": ["crease", "perforated", "cut-crease", "reverse crease"]},
            },
            "feature": {"type": "array", "items": _feature()},
            "contents": {"type": "object", "properties": {"mass": _LENGTH}, "additionalProperties": False},
            "files": {
                "type": "object",
                "description": "texts of the files that the job leans on; names of files are refused",
                "properties": dict.fromkeys(("boards", "house", "machine", "limits"), carried),
                "additionalProperties": False,
            },
            "output": _output(),
        },
    }


def _feature() -> dict[str, Any]:
    return {
        "type": "object",
        "required": ["kind", "panel"],
        "additionalProperties": False,
        "properties": {
            "kind": {"enum": list(KINDS)},
            "panel": {"type": "string"},
            "shape": {"enum": list(SHAPES)},
            "edge": {"enum": ["top", "bottom", "left", "right"]},
            "width": _LENGTH,
            "height": _LENGTH,
            "radius": _LENGTH,
            "at": {"type": "array", "items": _LENGTH, "minItems": 2, "maxItems": 2},
            "left_in": {"type": "boolean"},
            "upright": {"type": "boolean"},
        },
    }


def _output() -> dict[str, Any]:
    switch = {"type": "boolean"}
    return {
        "type": "object",
        "additionalProperties": False,
        "properties": {
            "formats": {"type": "array", "items": {"enum": list(FORMATS)}, "minItems": 1},
            "dxf": {"enum": ["R2010", "R12"]},
            "unit": {"enum": ["mm", "in"]},
            "arcs": {"enum": ["bulge", "separate"]},
            "side": {"enum": ["inside", "print"]},
            "notes": switch,
            "carry_job": switch,
        },
    }
