"""All that is kept, as one ZIP file to take away: the journals, and every view of the history as CSV and JSON with its schema."""

import json
from collections.abc import Iterable, Sequence
from io import BytesIO
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from courttimer.report.tables import Table, as_csv, as_json, json_schema

_SAID = """What courttimer keeps, taken away.

journals/      one file a practice: everything that happened, a JSON object a line, with the session as it was played
history.json   the tables below as one JSON document; history.schema.json is its JSON Schema
"""


def packed(tables: Sequence[Table], journals: Iterable[Path]) -> bytes:
    """The ZIP file. The same records give the same bytes. Raises OSError when a journal cannot be read."""
    out = BytesIO()
    with ZipFile(out, "w", ZIP_DEFLATED) as box:
        _put(box, "README.txt", _SAID + "".join(map(_told, tables)))
        _put(box, "history.json", json.dumps(as_json(tables), ensure_ascii=False, indent=1) + "\n")
        _put(box, "history.schema.json", json.dumps(json_schema(tables), ensure_ascii=False, indent=1) + "\n")
        for table in tables:
            _put(box, f"{table.name}.csv", as_csv(table))
        for path in journals:
            _put(box, f"journals/{path.name}", path.read_bytes())
    return out.getvalue()


def _put(box: ZipFile, name: str, content: str | bytes) -> None:
    entry = ZipInfo(name)  # its date is that of the format's beginning, so that nothing changes which did not change
    entry.compress_type = ZIP_DEFLATED
    box.writestr(entry, content)


def _told(table: Table) -> str:
    return f"\n{table.name}.csv: {table.title}\n" + "".join(f"  {c.name:<12} {c.meaning}\n" for c in table.columns)
