"""A set PDF finished: row headers named in its structure, and one identity for one content.

The engine marks column headers; the flag for row headers cannot be set from Python, so they are marked here: in every
row of a table's body the first cell, if it is a data cell, becomes a header with the scope of its row (ISO 32000-1,
14.8.4.3.4 and 14.8.5.7).
"""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pikepdf

_DEEPEST = 64


def finish_pdf(pdf: bytes) -> bytes:
    """The PDF with row headers, saved so that the same input gives the same bytes.

    Raises ValueError for a PDF without a structure tree.
    """
    import pikepdf

    with pikepdf.open(BytesIO(pdf)) as document:
        root = document.Root.get("/StructTreeRoot")
        if not isinstance(root, pikepdf.Dictionary):
            raise ValueError("this PDF has no structure tree")
        for body in _elements(root, "/TBody"):
            for row in _kids(body):
                _head_row(row)
        out = BytesIO()
        document.save(
            out,
            deterministic_id=True,
            object_stream_mode=pikepdf.ObjectStreamMode.generate,
            compress_streams=True,
            preserve_pdfa=True,
        )
    return out.getvalue()


def _head_row(row: pikepdf.Object) -> None:
    """Makes the first cell of a row its header, unless the row begins with one already."""
    import pikepdf

    cells = list(_kids(row))
    if row.get("/S") != "/TR" or not cells or cells[0].get("/S") != "/TD":
        return
    for cell in cells:
        # The engine lists the column headers of a cell. A list takes the place of all scopes, so the row's header
        # would go unheard; without a list both are found by their scopes.
        table = _table_attributes(cell)
        if table is not None and "/Headers" in table:
            del table["/Headers"]
    cells[0]["/S"] = pikepdf.Name.TH
    attributes = _table_attributes(cells[0])
    if attributes is not None:
        attributes["/Scope"] = pikepdf.Name.Row
        return
    scope = pikepdf.Dictionary(O=pikepdf.Name.Table, Scope=pikepdf.Name.Row)
    had = cells[0].get("/A")
    cells[0]["/A"] = scope if had is None else pikepdf.Array([*_listed(had), scope])


def _table_attributes(cell: pikepdf.Object) -> pikepdf.Object | None:
    """What a cell says of itself as part of a table, or None."""
    import pikepdf

    for one in _listed(cell.get("/A")):
        if isinstance(one, pikepdf.Dictionary) and one.get("/O") == "/Table":
            return one
    return None


def _listed(value: pikepdf.Object | None) -> list[pikepdf.Object]:
    import pikepdf

    return list(value.as_list()) if isinstance(value, pikepdf.Array) else [] if value is None else [value]


def _elements(above: pikepdf.Object, kind: str, depth: int = 0) -> Iterator[pikepdf.Object]:
    """The structure elements of one kind below another, in reading order."""
    for kid in _kids(above):
        if kid.get("/S") == kind:
            yield kid
        elif depth < _DEEPEST:
            yield from _elements(kid, kind, depth + 1)


def _kids(element: pikepdf.Object) -> Iterator[pikepdf.Object]:
    import pikepdf

    kids = element.get("/K")
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
