"""The id inside a column of JSON text, written so that an index of either database can hold it."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db.models import Func, TextField
from django.db.models.sql.compiler import SQLCompiler


class IdInJson(Func):
    """The text under "id" of a column that holds a JSON object as text: `IdInJson("body")`.

    Of PostgreSQL's two types `json` is used, not `jsonb`: it bears every character that JSON text can write.
    """

    arity = 1
    output_field: ClassVar = TextField()

    def as_sqlite(self, compiler: SQLCompiler, connection: Any, **_: Any) -> Any:
        """Write it for SQLite."""
        return self.as_sql(compiler, connection, template="json_extract(%(expressions)s, '$.id')")

    def as_postgresql(self, compiler: SQLCompiler, connection: Any, **_: Any) -> Any:
        """Write it for PostgreSQL."""
        return self.as_sql(compiler, connection, template="((%(expressions)s)::json ->> 'id')")
