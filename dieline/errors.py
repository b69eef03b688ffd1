"""Every error that dieline raises on purpose.

    DielineError
    ├── InputError (ValueError)      something asked for is wrong; exit 2
    │   ├── UnknownNameError (LookupError)   no such style, board, option …; near names offered
    │   ├── SizeError                a size that cannot be read or cannot be made
    │   ├── OptionError              an option out of its range
    │   ├── BoardError               a board file with a missing or wrong value
    │   └── JobError                 every problem of one file, together
    ├── StyleError (RuntimeError)    a style that cannot be loaded or built something unsound
    ├── ProofError (ArithmeticError) a drawing that failed a proof and is not written; exit 1
    └── OutputError (OSError)        a file that could not be written

The text of an error is one line made from its fields, always in this order: where – what it is – what it must
be and why – what to do.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

__all__ = [
    "BoardError",
    "DielineError",
    "InputError",
    "JobError",
    "OptionError",
    "OutputError",
    "ProofError",
    "SizeError",
    "StyleError",
    "UnknownNameError",
    "near_names",
]


class DielineError(Exception):
    """The root: catch this to catch everything that dieline raises on purpose.

    Args:
        where: The place, in the user's words (``board``, ``options.lap_width``, ``top flap 1``).
        what: What was found there.
        must: What it must be, and why.
        cure: What to do about it.
        line: The line of the file it stands on, where known (counted from 1).
    """

    def __init__(self, where: str, what: str, must: str = "", cure: str = "", *, line: int | None = None) -> None:
        self.where, self.what, self.must, self.cure, self.line = where, what, must, cure, line
        super().__init__(self.text)

    @property
    def text(self) -> str:
        """The whole message in one line."""
        place = self.where if self.line is None else f"{self.where} (line {self.line})"
        return " – ".join(part for part in (place, self.what, self.must, self.cure) if part)

    def __str__(self) -> str:
        return self.text


class InputError(DielineError, ValueError):
    """Something asked for cannot be right."""


class UnknownNameError(InputError, LookupError):
    """A name that stands for nothing; the nearest known names are offered.

    Args:
        where: What kind of name it is (``style``, ``board``).
        name: The name as given.
        known: Every name that would have been right.
        line: The line of the file it stands on, where known.
        listed: What lists all of them, where they are too many to say.
    """

    def __init__(
        self, where: str, name: str, known: Iterable[str], *, line: int | None = None, listed: str = ""
    ) -> None:
        self.name = name
        self.known = tuple(known)
        self.near = near_names(name, self.known)
        if self.near:
            cure = "did you mean " + " or ".join(self.near) + "?"
        elif len(self.known) <= 12:
            cure = "known: " + (", ".join(self.known) or "none")
        else:
            cure = f"{len(self.known)} are known" + (f"; list them with: {listed}" if listed else "")
        super().__init__(where, f"'{name}' is not known", "", cure, line=line)


class SizeError(InputError):
    """A size that cannot be read, or that no box can have."""


class OptionError(InputError):
    """An option whose value is of the wrong kind or out of its range."""


class BoardError(InputError):
    """A board, house or machine file with a missing or impossible value."""


class JobError(InputError):
    """Every problem of one file at once.

    Args:
        source: The file, or another name of the place.
        problems: The single problems, in the order of the file.
    """

    def __init__(self, source: str, problems: Sequence[DielineError]) -> None:
        self.problems = tuple(problems)
        count = len(self.problems)
        super().__init__(source, "1 problem" if count == 1 else f"{count} problems")

    @property
    def text(self) -> str:
        """One line for the file, one more for each problem."""
        head = f"{self.where} – {self.what}"
        return "\n".join([head, *(f"  {problem.text}" for problem in self.problems)])


class StyleError(DielineError, RuntimeError):
    """A style that cannot be loaded, or that built something unsound: a fault of the style, not of the job."""


class ProofError(DielineError, ArithmeticError):
    """A drawing that failed one of the three proofs; it is not written.

    Args:
        proof: ``flat``, ``folded`` or ``written``.
        failures: One line for each failure: which panel, by how much, what to change.
    """

    def __init__(self, proof: str, failures: Sequence[str]) -> None:
        self.proof = proof
        self.failures = tuple(failures)
        super().__init__(f"the {proof} proof", "; ".join(self.failures), "nothing was written")


class OutputError(DielineError, OSError):
    """A file that could not be written; nothing half-written is left behind."""

    def __init__(self, where: str, what: str, must: str = "", cure: str = "") -> None:
        DielineError.__init__(self, where, what, must, cure)


def near_names(name: str, known: Iterable[str], *, most: int = 3) -> tuple[str, ...]:
    """The known names that look most like a misspelt one, best first.

    Args:
        name: The name as typed.
        known: The names that exist.
        most: How many to offer at the most.

    Example:
        >>> near_names("0210", ["0200", "0201", "0301"])
        ('0201', '0200')
    """
    import difflib  # only when something is wrong: it costs 2 ms to load

    by_fold = {candidate.casefold(): candidate for candidate in known}
    found = difflib.get_close_matches(name.casefold(), by_fold, n=most, cutoff=0.6)
    return tuple(by_fold[key] for key in found)
