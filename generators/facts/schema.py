"""JSON Schemas, so that an editor completes and checks the YAML while one types."""

from __future__ import annotations

from typing import Any, get_args

from pydantic import BaseModel

from generators.facts import model, regions, training
from generators.quantity import KINDS, Kind


def _within(annotation: Any) -> list[Any]:
    """Everything that a field's type says, at any depth."""
    return [annotation, *(found for part in get_args(annotation) for found in _within(part))]


_CUP = get_args(model.kinds.Cup)[1]  # the reader of a cup time


def figures(kind: type[BaseModel]) -> dict[str, tuple[Kind, bool]]:
    """Field → (what kind of figure it is, whether a file has to say it), for a short form made from the same schema; a cup time is one too."""
    found = {}
    for name, field in kind.model_fields.items():
        said = [part for part in (*field.metadata, *_within(field.annotation)) if isinstance(part, Kind)]
        if said:
            found[name] = (said[0], field.is_required())
        elif _CUP in (*field.metadata, *(one for part in _within(field.annotation) for one in getattr(part, "__metadata__", ()))):
            found[name] = (KINDS["cup time"], field.is_required())
    return found


def _many(kind: type[Any]) -> dict[str, Any]:
    """Schema of a file that maps names to entries of one kind."""
    inner = kind.model_json_schema(by_alias=True)
    definitions = inner.pop("$defs", {})
    return {"type": "object", "additionalProperties": inner, "$defs": definitions}


def schemas() -> dict[str, dict[str, Any]]:
    """File name → schema, for each kind of YAML file in site_data."""
    made = {"kit.json": model.Kit.model_json_schema(by_alias=True), "coating.json": model.Coating.model_json_schema(by_alias=True),
            "own-cup.json": model.OwnCup.model_json_schema(by_alias=True), "recipe.json": model.Recipe.model_json_schema(by_alias=True), "search.json": model.Search.model_json_schema(by_alias=True),
            "region.json": regions.Region.model_json_schema(by_alias=True), "template.json": model.Template.model_json_schema(by_alias=True),
            "handbook.json": model.Handbook.model_json_schema(by_alias=True)}
    many = {"protection.json": model.Protection, "stops.json": model.Stop, "classes.json": model.CoatingClass,
            "limits.json": model.Limit, "rates.json": model.Rate, "sources.json": model.Source, "words.json": model.Word,
            "techniques.json": model.Technique, "faults.json": model.Fault, "fault_drawings.json": model.FaultDrawing,
            "cleaning.json": model.Cleaning, "finishes.json": model.Finish, "substrates.json": model.Substrate, "pieces.json": model.Piece, "stages.json": model.Stage,
            "drills.json": training.Drill, "planted.json": training.Planted}
    made |= {name: _many(kind) for name, kind in many.items()}
    return {name: {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema} for name, schema in made.items()}
