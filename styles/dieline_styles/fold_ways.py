"""How a fold can be made: the words of the options ``body_crease`` and ``flap_crease``, and what each means."""

from __future__ import annotations

from dieline.style import Meaning

__all__ = ["FOLD_WAYS"]

FOLD_WAYS = {
    "crease": Meaning.CREASE,
    "perforated": Meaning.PERFORATION,
    "cut-crease": Meaning.CUT_CREASE,
}
"""What is done to the board along the fold, by the word of the option."""
