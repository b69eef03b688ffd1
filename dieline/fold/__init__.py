"""The folded box: poses, slabs, clashes and measures."""

from .proof import FoldReport, prove_folded

__all__ = ["FoldReport", "prove_folded"]
