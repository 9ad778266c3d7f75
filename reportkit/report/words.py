"""The words of the documents, in the client's language.

Every sentence is an English template in the code; catalogues in ``reportkit/locale`` hold the other
languages (gettext). A template is translated first and filled afterwards, so what a person typed is never
looked up and never read as a template.
"""

from __future__ import annotations

import gettext
from pathlib import Path
from typing import Any

LOCALE_DIR = Path(__file__).parent.parent / "locale"


class Words:
    """Sentences in one language.

    Parameters
    ----------
    language
        A language such as ``en`` or ``es-MX``; English where there is no catalogue.
    """

    def __init__(self, language: str) -> None:
        tag = language.replace("-", "_")
        tags = [tag, tag.split("_")[0]]
        self._catalogue = gettext.translation("reportkit", LOCALE_DIR, languages=tags, fallback=True)
        #: Language of the sentences: the one asked for, or English where it has no catalogue.
        self.language = tags[1] if gettext.find("reportkit", LOCALE_DIR, tags) else "en"

    def __call__(self, template: str, **values: Any) -> str:
        """Translate a template and fill its ``{names}``."""
        return self._catalogue.gettext(template).format(**values)

    def raw(self, template: str) -> str:
        """Translate a template and leave its ``{names}`` to be filled later."""
        return self._catalogue.gettext(template)

    def many(self, one: str, more: str, number: int, **values: Any) -> str:
        """Translate the form that goes with a number and fill it; ``{n}`` is the number."""
        return self._catalogue.ngettext(one, more, number).format(n=number, **values)
