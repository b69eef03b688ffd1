"""What a person reads on a terminal after a draw."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

from dieline.cli.show import show_result


def test_a_terminal_shows_every_size_with_its_derivation(
    draw: Any, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    result = draw()
    show_result(result, [Path("a.dxf")])
    shown = capsys.readouterr().out
    for line in result.design.sizes:
        assert f"= {line.derivation}\n" in shown
    assert "  panel 2 width          204 = B 200 + (0+0+1) × t 4\n" in shown
    assert "die of body: 10 pieces of waste, the smallest 3.06 cm²; least distance of knives 6 mm; about " in shown
    assert "folded proof   inside measures 300 x 200 x 150 mm" in shown
    assert len(shown.splitlines()) < 40


def test_a_pipe_gets_only_the_names_of_the_files(draw: Any, capsys: pytest.CaptureFixture[str]) -> None:
    show_result(draw(), [Path("a.dxf"), Path("a.svg")])
    assert capsys.readouterr().out == "a.dxf\na.svg\n"
