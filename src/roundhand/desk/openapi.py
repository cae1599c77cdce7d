"""The desk's operations described for programs: OpenAPI 3.1, made from the operations and the values themselves."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import msgspec

import roundhand
from roundhand.desk.answers import Problem
from roundhand.desk.operation import JSON, Operation
from roundhand.desk.problems import PROBLEM, STATUS

_REFERENCE = "#/components/schemas/{name}"
# Any request may come from elsewhere, or without a key.
_ALWAYS = ("stranger", "broken")
_WITH_BODY = ("no-json", "wrong-shape")


def described(operations: Sequence[Operation]) -> dict[str, Any]:
    """The description of all operations."""
    types = [
        *dict.fromkeys(
            one for operation in operations for one in (operation.gives, operation.asks, *operation.events) if one
        )
    ]
    types += [Problem] if Problem not in types else []
    schemas, components = msgspec.json.schema_components(types, ref_template=_REFERENCE)
    shapes = dict(zip(types, schemas, strict=True))
    paths: dict[str, dict[str, Any]] = {}
    for operation in operations:
        address = re.sub(r"\{(\w+):\w+\}", r"{\1}", operation.path)
        paths.setdefault(address, {})[operation.method.lower()] = _described(operation, shapes)
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "The desk of roundhand",
            "version": roundhand.__version__,
            "description": "What the desk's page asks of its server. It answers on this computer alone. Offsets are "
            "code points of the text, lines count from 1.",
        },
        "paths": paths,
        "components": {
            "schemas": components,
            "securitySchemes": {"key": {"type": "apiKey", "in": "cookie", "name": "roundhand-desk-PORT"}},
        },
        "security": [{"key": []}],
    }


def _described(operation: Operation, shapes: dict[Any, Any]) -> dict[str, Any]:
    said: dict[str, Any] = {"operationId": operation.name, "summary": operation.says}
    if operation.parameters:
        said["parameters"] = [
            {
                "name": one.name,
                "in": one.place,
                "description": one.says,
                "required": one.required,
                "schema": one.schema,
            }
            for one in operation.parameters
        ]
    if operation.asks is not None:
        said["requestBody"] = {"required": True, "content": {JSON: {"schema": shapes[operation.asks]}}}
    answer: dict[str, Any] = {"description": "The answer."}
    if operation.gives is not None:
        answer["content"] = {operation.media: {"schema": shapes[operation.gives]}}
    elif operation.events:
        shown = {"anyOf": [shapes[one] for one in operation.events]}
        data = {"type": "string", "contentMediaType": JSON, "contentSchema": shown}
        event = {"type": "object", "required": ["data"], "properties": {"data": data}}
        answer["content"] = {operation.media: {"schema": event}}
    elif operation.media != JSON:
        answer["content"] = {operation.media: {"schema": {"type": "string"}}}
    said["responses"] = {str(operation.status): answer, **_problems(operation, shapes[Problem])}
    return said


def _problems(operation: Operation, shape: Any) -> dict[str, Any]:
    # An address with a part of its own, such as a name, may lead nowhere.
    astray = ("not-there",) if operation.parameters else ()
    kinds = (*_ALWAYS, *astray, *(_WITH_BODY if operation.asks is not None else ()), *operation.kinds)
    by_status: dict[int, list[str]] = {}
    for kind in dict.fromkeys((*kinds, "no-key")):
        by_status.setdefault(STATUS[kind], []).append(kind)
    return {
        str(status): {
            "description": f"A problem of the kind {' or '.join(own)}.",
            "content": {PROBLEM: {"schema": shape}},
        }
        for status, own in sorted(by_status.items())
    }
