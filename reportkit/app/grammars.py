"""What `jsonschema` loads for the notebooks' schema and nothing of it uses."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def without_grammars() -> Iterator[None]:
    """Keep ``jsonschema`` from loading some 35 grammars of URI forms that no notebook schema uses.

    They cost more than everything else papermill imports; ``jsonschema`` does without them where their
    package is absent (known upstream as jsonschema #1428 and nbformat #420).
    """
    name = "rfc3987_syntax"
    if name in sys.modules:
        yield
        return
    sys.modules[name] = None  # type: ignore[assignment] # the documented way to make an import fail
    try:
        yield
    finally:
        del sys.modules[name]
