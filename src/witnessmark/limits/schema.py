"""The published JSON Schema of a limit sheet (draft 2020-12), made from the same shape that the loader reads."""

from typing import Any

from witnessmark.catalogue.entry import Catalogue

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def json_schema(catalogue: Catalogue | None = None) -> dict[str, Any]:
    """The schema; with a catalogue it also lists the characteristics and operations that may be named.

    A YAML reader of another make turns 5.940 into a number and `no` into false. The loader keeps both as text, so the
    schema lets numbers stand for text, and true and false for yes and no.
    """
    from witnessmark.limits.model import File

    schema: dict[str, Any] = loosened(File.model_json_schema(by_alias=True))
    if catalogue is not None:
        schema["properties"]["limits"]["propertyNames"] = {"enum": list(catalogue.characteristics)}
        schema["properties"]["operations"]["propertyNames"] = {"enum": list(catalogue.operations)}
    return {"$schema": DRAFT, "title": "Witnessmark limit sheet", **schema}


def loosened(node: Any) -> Any:
    """A schema in which numbers may stand for their texts, and true and false for yes and no."""
    if isinstance(node, list):
        return [loosened(each) for each in node]
    if not isinstance(node, dict):
        return node
    found = {key: loosened(each) for key, each in node.items() if not (key == "title" and isinstance(each, str))}
    if found.get("type") == "string" and {"yes", "no"} <= set(found.get("enum", ())):
        return {key: each for key, each in found.items() if key != "type"} | {"enum": [*found["enum"], True, False]}
    if found.get("type") == "string" and "enum" not in found and "const" not in found:
        return found | {"type": ["string", "number"]}
    return found
