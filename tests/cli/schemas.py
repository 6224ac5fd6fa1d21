"""What is written as JSON, held against its schema."""

import json
import pathlib

import jsonschema

SCHEMAS = pathlib.Path(__file__).resolve().parents[2] / "docs" / "schema"


def objects_within(value, schema, path="$"):
    """Every object of a document with the part of the schema that it keeps to; not what another schema
    describes, nor a value of which it leaves open what it is."""
    if "$ref" in schema or not {"properties", "items"} & schema.keys():
        return
    if isinstance(value, dict):
        yield path, value, schema
        for key, part in value.items():
            yield from objects_within(part, schema["properties"][key], f"{path}.{key}")
    elif isinstance(value, list):
        for index, part in enumerate(value[:1]):
            yield from objects_within(part, schema["items"], f"{path}[{index}]")


def assert_keeps_to(test, document, name):
    """The document keeps to the schema of this file name, and the schema refuses each of its objects
    with a field more or a field less."""
    schema = json.loads((SCHEMAS / name).read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    resolver = jsonschema.RefResolver(SCHEMAS.as_uri() + "/", schema)
    validator = jsonschema.Draft202012Validator(schema, resolver=resolver)
    test.assertEqual([f"{m.json_path}: {m.message}" for m in validator.iter_errors(document)], [], name)
    for path, part, of_part in objects_within(document, schema):
        validator = jsonschema.Draft202012Validator(of_part, resolver=resolver)
        test.assertTrue(validator.is_valid(part), path)
        test.assertFalse(validator.is_valid({**part, "unheard_of": 1}), path)
        for key in part:
            fewer = {k: v for k, v in part.items() if k != key}
            test.assertFalse(validator.is_valid(fewer), f"{path} without {key}")
