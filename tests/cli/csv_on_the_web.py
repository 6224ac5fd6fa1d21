"""Reads a table as CSV by its metadata, by the rules of the W3C and knowing nothing of what the table is about.

"Model for Tabular Data and Metadata on the Web" and "Metadata Vocabulary for Tabular Data", W3C Recommendations of 17
December 2015: locating metadata (5.3 of the Model), dialects (5.9 of the Vocabulary), parsing of cells (6.4 of the
Model). What of them this project does not write is refused, so that nothing is passed over unseen.
"""

import csv
import io
import json
import math
import pathlib

NUMBERS = {"integer": int, "double": float}


class NotRead(Exception):
    """The table is not what its metadata say, or they use what is not read here."""


def require(condition, what: str) -> None:
    if not condition:
        raise NotRead(what)


def parse_value(text: str, datatype):
    base = datatype["base"] if isinstance(datatype, dict) else datatype
    if base == "string":
        return text
    if base in NUMBERS:
        require(text == text.strip() and text != "", f"'{text}' is no {base}")
        value = NUMBERS[base](text)
        require(math.isfinite(value), f"{text} is not finite")
        return value
    require(base == "boolean" and set(datatype) == {"base", "format"}, f"datatype {datatype}")
    true, false = datatype["format"].split("|")
    require(text in (true, false), f"'{text}' is no {datatype['format']}")
    return text == true


def parse_cell(text: str, column: dict):
    """The steps of 6.4, in their order."""
    required = column.get("required", False)
    separator = column.get("separator")
    if separator is not None and text == "":
        require(not required, f"an empty list under {column['name']}")
        return []
    if separator is not None:
        return [parse_value(item, column["datatype"]) for item in text.split(separator)]
    if text in column.get("null", [""]):
        require(not required, f"nothing under {column['name']}")
        return None
    return parse_value(text, column["datatype"])


def metadata_of(path: pathlib.Path) -> dict:
    """Beside the file, under the name where the Recommendation looks for it first."""
    metadata = json.loads(path.with_name(path.name + "-metadata.json").read_text(encoding="utf-8"))
    require(metadata["@context"] == ["http://www.w3.org/ns/csvw", {"@language": "en"}], "@context")
    require(metadata["url"] == path.name, "url")
    return metadata


def read_table(path: pathlib.Path) -> list[dict]:
    metadata = metadata_of(path)
    dialect = metadata["dialect"]
    trim = {"start": str.lstrip, False: str}[dialect.pop("trim")]
    require(dialect == {"encoding": "utf-8", "delimiter": ",", "quoteChar": '"', "doubleQuote": True,
                        "headerRowCount": 1}, "dialect")
    text = path.read_bytes().decode("utf-8")
    lines = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    columns = metadata["tableSchema"]["columns"]
    for column in columns:
        require(set(column) <= {"name", "titles", "dc:description", "datatype", "schema:unitText", "separator",
                                "required", "null"}, f"{set(column)}")
    require(lines[0] == [column["titles"] for column in columns], "headings")
    rows = []
    for line in lines[1:]:
        require(len(line) == len(columns), f"{len(line)} cells")
        rows.append({column["name"]: parse_cell(trim(cell), column) for cell, column in zip(line, columns)})
    key = metadata["tableSchema"]["primaryKey"]
    names = [tuple(row[name] for name in key) for row in rows]
    require(len(set(names)) == len(names), f"two rows with one {key}")
    return rows
