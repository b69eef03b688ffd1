"""The group codes of a DXF text, for the reader: pairs of code and value in records, and errors that name the line."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import compress, pairwise
from operator import not_

from ..errors import InputError

__all__ = ["Groups", "Record"]

_CURE = "write the file again, or save it as text DXF"


class _Codes(dict[str, int]):
    """Group codes by the way they are written; a file uses few, so each is read once."""

    def __missing__(self, text: str) -> int:
        code = self[text] = int(text)
        return code


class Groups:
    """The pairs of one file.

    Args:
        text: The whole file.
        where: Its name, for errors.

    Attributes:
        codes: The group codes.
        values: The values, as they stand.

    Raises:
        InputError: If it is no DXF file in text form, or is cut off.
    """

    def __init__(self, text: str, where: str) -> None:
        self.where = where
        lines = text.replace("\r\n", "\n").replace("\r", "\n").rstrip().split("\n")
        self.values = lines[1::2]
        try:
            self.codes = list(map(_Codes().__getitem__, lines[0::2]))
        except ValueError:
            raise self._complaint(lines) from None
        if self._first_section() < 0:
            raise self.error(0, "this is no DXF file", "it must begin with a section")
        if len(self.values) != len(self.codes):
            raise self.error(len(self.values), "the file is cut off here", "a value must follow its group code")

    def records(self) -> Iterator[Record]:
        """The records: each begins with group code 0.

        Raises:
            InputError: If the file does not end with the record EOF.
        """
        starts = list(compress(range(len(self.codes)), map(not_, self.codes)))
        for start, end in pairwise(starts):
            yield Record(self, start, end)
        if self.values[starts[-1]].strip() != "EOF":
            raise self.error(len(self.codes) - 1, "the file is cut off here", "it must end with EOF")

    def error(self, place: int, what: str, must: str, *, value: bool = False) -> InputError:
        """An error about the code, or the value, of the pair at a place."""
        return InputError(self.where, what, must, _CURE, line=2 * place + (2 if value else 1))

    def number(self, place: int) -> float:
        """The number at a place.

        Raises:
            InputError: If it is none.
        """
        try:
            number = float(self.values[place])
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            raise self.error(place, f"'{self.values[place].strip()[:40]}'", "it must be a number", value=True)
        return number

    def _first_section(self) -> int:
        """Where the first section begins, after nothing but comments; -1 if it does not."""
        for place, code in enumerate(self.codes):
            if code != 999:
                begins = code == 0 and self.values[place : place + 1] and self.values[place].strip() == "SECTION"
                return place if begins else -1
        return -1

    def _complaint(self, lines: list[str]) -> InputError:
        """Which line is no group code, or that the whole is no text DXF."""
        if "Binary DXF" in lines[0]:
            return self.error(0, "this is a binary DXF file", "it must be in text form")
        for place, code in enumerate(lines[0::2]):
            try:
                int(code)
            except ValueError:
                if place > 0:
                    return self.error(place, f"'{code.strip()[:40]}' is no group code", "it must be a whole number")
                break
        return self.error(0, "this is no DXF file", "it must begin with a section")


class Record:
    """One record of a file.

    Attributes:
        kind: What it is (``LINE``).
        start: Its first place.
        end: The place after its last.
    """

    __slots__ = ("_first", "_groups", "end", "kind", "start")

    def __init__(self, groups: Groups, start: int, end: int) -> None:
        self._groups = groups
        self.start, self.end = start, end
        self.kind = groups.values[start].strip()
        self._first: dict[int, str] | None = None

    def value(self, code: int) -> str | None:
        """The first value of a group code as it stands, or None."""
        if self._first is None:
            part, groups = slice(self.start, self.end), self._groups
            self._first = dict(zip(groups.codes[part][::-1], groups.values[part][::-1], strict=True))
        return self._first.get(code)

    def text(self, code: int, default: str = "") -> str:
        """The first value of a group code, spaces round it left out."""
        value = self.value(code)
        return default if value is None else value.strip()

    def number(self, code: int, default: float | None = None) -> float:
        """The first number of a group code.

        Raises:
            InputError: If there is none and no default, or it is no number.
        """
        value = self.value(code)
        if value is None:
            if default is None:
                raise self.error(f"{self.kind} without group code {code}", "it needs one")
            return default
        try:
            number = float(value)
        except ValueError:
            number = math.nan
        # A number that is not finite takes the slow way, which says where it stands.
        return number if math.isfinite(number) else self.number_at(self._groups.codes.index(code, self.start))

    def whole(self, code: int, default: int) -> int:
        """The first whole number of a group code."""
        return int(self.number(code, float(default)))

    def pairs(self) -> Iterator[tuple[int, int]]:
        """Every (place, group code) in order."""
        return zip(range(self.start, self.end), self._groups.codes[self.start : self.end], strict=True)

    def number_at(self, place: int) -> float:
        """The number at a place; see ``Groups.number``."""
        return self._groups.number(place)

    def text_at(self, place: int) -> str:
        """The value at a place."""
        return self._groups.values[place].strip()

    def error(self, what: str, must: str) -> InputError:
        """An error about the record."""
        return self._groups.error(self.start, what, must)
