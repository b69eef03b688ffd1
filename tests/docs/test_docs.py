"""What the docs show is true: commands run, code runs, every command, option, style and check is described."""

from __future__ import annotations

import importlib.util
import json
import re
import shlex
import subprocess
import sys
import types
from pathlib import Path

import pytest

from dieline.checks import catalogue
from dieline.registry import style_names

ROOT = Path(__file__).parents[2]
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md")), ROOT / "samples/README.md"]
SHOWN = [
    (page.name, command)
    for page in PAGES
    for block in re.findall(r"```console\n(.*?)```", page.read_text(encoding="utf-8"), re.DOTALL)
    for command in re.findall(r"^\$ (.*)$", block, re.MULTILINE)
]


def _maker() -> types.ModuleType:
    spec = importlib.util.spec_from_file_location("docs_make", ROOT / "docs/make.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["docs_make"] = module
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(ROOT / "docs")
        spec.loader.exec_module(module)
    return module


def test_pages_and_pictures_made_from_the_code_are_up_to_date() -> None:
    """``make docs`` was run after the last change; the help pages may differ by the installed typer's layout."""
    for path, text in _maker().pages():
        if path.name != "commands.md":
            assert path.read_text(encoding="utf-8") == text, f"{path} is out of date: run make docs"


def _run(command: str) -> subprocess.CompletedProcess[str]:
    words = shlex.split(command)
    assert words[0].removeprefix(".venv/bin/") == "dieline", command
    return subprocess.run([sys.executable, "-m", "dieline", *words[1:]], cwd=ROOT, capture_output=True, text=True)


@pytest.mark.parametrize(("page", "command"), SHOWN, ids=lambda value: str(value)[:60])
def test_every_command_shown_runs(page: str, command: str, tmp_path: Path) -> None:
    command = command.replace("--out out", f"--out {tmp_path}")
    first = f"dieline draw 0201 300x200x150 --board C --out {tmp_path}"
    if " out/" in command:
        _run(first)
        command = command.replace(" out/", f" {tmp_path}/")
    done = _run(command)
    assert done.returncode == 0, done.stderr
    assert "Traceback" not in done.stderr


PYTHON = [
    (page.name, number, code)
    for page in (ROOT / "README.md", ROOT / "docs/first-box.md", ROOT / "docs/styles.md")
    for number, code in enumerate(re.findall(r"```python\n(.*?)```", page.read_text(encoding="utf-8"), re.DOTALL))
    if "my_styles" not in code
]


@pytest.mark.parametrize(("page", "number", "code"), PYTHON, ids=lambda value: str(value)[:20])
def test_every_piece_of_python_shown_runs(
    page: str, number: int, code: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    if page == "styles.md" and "conform" in code:
        exec(_styles_example(), names)
    exec(compile(code, f"{page}:{number}", "exec"), names)
    for name, value in list(names.items()):
        if name.startswith("test_") and callable(value):
            value()


def _styles_example() -> str:
    page = (ROOT / "docs/styles.md").read_text(encoding="utf-8")
    blocks: list[str] = re.findall(r"```python\n(.*?)```", page, re.DOTALL)
    return next(code for code in blocks if "OPEN_TRAY = Style" in code)


def test_the_style_on_the_author_s_page_passes_the_suite() -> None:
    from dieline.testing import conform

    names: dict[str, object] = {}
    exec(_styles_example(), names)
    style = names["OPEN_TRAY"]
    assert conform(style) > 20  # type: ignore[arg-type]  # it is a Style; exec keeps no types


TOML = [
    (page.name, code)
    for page in (ROOT / "docs").glob("*.md")
    for code in re.findall(r"```toml\n(.*?)```", page.read_text(encoding="utf-8"), re.DOTALL)
]


@pytest.mark.parametrize(("page", "code"), TOML, ids=lambda value: str(value)[:24])
def test_every_file_shown_is_read(page: str, code: str) -> None:
    import tomllib

    from dieline.board import boards_from_text
    from dieline.checks import limits_from_text
    from dieline.house import house_from_text
    from dieline.job_file import job_from_text
    from dieline.machine import machine_from_text

    data = tomllib.loads(code)
    if page == "house.md":
        house_from_text(code, page)
    elif page == "machines.md":
        machine_from_text(code, page)
    elif page == "limits.md":
        limits_from_text(code, page)
    elif "board" in data and isinstance(data["board"], list):
        boards_from_text(code, page)
    elif page == "job-file.md":
        job_from_text(code.replace('"quillby-', '"samples/quillby-'), page, ROOT)
    elif "style" in data:
        job_from_text(code, page)


def test_every_option_of_every_command_is_on_the_commands_page() -> None:
    page = (ROOT / "docs/reference/commands.md").read_text(encoding="utf-8")
    for words in ([], ["draw"], ["styles"], ["boards"], ["schema"], ["checks"]):
        done = subprocess.run([sys.executable, "-m", "dieline", *words, "--help"], capture_output=True, text=True)
        for option in re.findall(r"--[a-z][a-z-]+", done.stdout):
            assert option in page, f"{' '.join(words)} {option}"


def test_every_style_and_check_has_its_place() -> None:
    styles = (ROOT / "docs/reference/styles.md").read_text(encoding="utf-8")
    for code in style_names():
        assert f"\n## {code} " in styles
    findings = (ROOT / "docs/reference/findings.md").read_text(encoding="utf-8")
    for check in catalogue():
        assert f"\n## {check.name}\n" in findings
        assert all(check.part(part) for part in ("Why", "Limit", "Fails", "Passes")), check.name


def test_every_link_leads_somewhere() -> None:
    for page in [*PAGES, *sorted((ROOT / "docs/reference").glob("*.md"))]:
        text = page.read_text(encoding="utf-8")
        for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)|src=\"([^\"]+)\"", text):
            link = target[0] or target[1]
            if "://" not in link:
                assert (page.parent / link).exists(), f"{page.name}: {link}"


def test_every_sample_is_described() -> None:
    page = (ROOT / "samples/README.md").read_text(encoding="utf-8")
    for path in (ROOT / "samples").glob("*.toml"):
        assert f"`{path.name}`" in page


def test_the_glossary_has_the_words_of_the_report() -> None:
    page = (ROOT / "docs/glossary.md").read_text(encoding="utf-8")
    for word in ("blank", "panel", "lap", "crease", "k", "shift", "give", "finding", "proof"):
        assert f"**{word}**" in page


def test_nothing_in_the_project_names_this_machine() -> None:
    files = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout.split()
    words = ("/" + "work/", "/" + "farm/")
    for name in files:
        path = ROOT / name
        if path.suffix in (".py", ".md", ".toml", ".csv") and path.exists():
            text = path.read_text(encoding="utf-8")
            assert not any(word in text for word in words), name


def test_the_report_keeps_its_promised_keys(tmp_path: Path) -> None:
    done = _run(f"dieline draw 0201 300x200x150 --board C --out {tmp_path} --report json")
    report = json.loads(done.stdout)
    assert {"style", "inside", "board", "pieces", "sizes", "fold", "findings", "files"} <= set(report)
