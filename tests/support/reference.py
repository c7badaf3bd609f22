"""Pages of reference made from the program itself: ``cd tests && python -m support.reference``."""

import inspect
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import Enum
from importlib import import_module
from pathlib import Path
from typing import Any, get_args, get_origin, get_type_hints

from typer.models import OptionInfo

import packdown
from packdown.cli.app import COMMANDS, app

__all__ = ["FUNCTIONS", "PAGES", "api_page", "commands_page"]

FUNCTIONS = (
    packdown.load_workspace,
    packdown.advise,
    packdown.make_plan,
    packdown.save_plan,
    packdown.load_plan,
    packdown.verify_plan,
    packdown.stow_plan,
    packdown.find_pieces,
)
"""The functions of the front door, in the order in which they are needed."""

FOLDER = Path(__file__).resolve().parents[2] / "shared" / "reference"
MADE = "<!-- Made by: cd tests && python -m support.reference -->"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Param:
    """An argument or an option of a command."""

    opts: tuple[str, ...]
    value: str
    told: str
    required: bool

    @property
    def shown(self) -> str:
        """How an argument is written in a line of use."""
        return self.value if self.required else f"[{self.value}]"


def commands_page() -> str:
    """Return every command with its arguments and options, in the order of the help."""
    for module in COMMANDS:
        import_module(f"packdown.cli.{module}")
    callbacks = {
        info.name or info.callback.__name__: info.callback
        for info in app.registered_commands
        if info.callback
    }
    lines = [
        "# Commands",
        "",
        MADE,
        "",
        "Data goes to standard output, talk to standard error. Exit status: 0 done, 1 the answer",
        "is no, 2 wrong use or bad input.",
        "",
    ]
    for name in (name for group in COMMANDS.values() for name in group):
        lines += _command(name, callbacks[name])
    return "\n".join(lines)


def _command(name: str, callback: Callable[..., object]) -> Iterator[str]:
    params = list(_params(callback))
    arguments = [param for param in params if not param.opts]
    options = [param for param in params if param.opts]
    words = [param.shown for param in arguments]
    words += [f"{param.opts[-1]} {param.value}" for param in options if param.required]
    yield f"## packdown {name}"
    yield ""
    yield inspect.cleandoc(callback.__doc__ or "")
    yield ""
    yield "```"
    yield " ".join(["packdown", name, *words, *(["[OPTIONS]"] if options else [])])
    yield "```"
    yield ""
    if params:
        yield "| | |"
        yield "|---|---|"
    for param in arguments:
        yield f"| `{param.value}` | {param.told} |"
    for param in options:
        spelled = ", ".join(f"`{word}`" for word in param.opts)
        value = param.value.replace("|", "\\|")
        yield f"| {spelled}{f' `{value}`' if value else ''} | {param.told} |"
    yield ""


def _params(callback: Callable[..., object]) -> Iterator[_Param]:
    hints = get_type_hints(callback, include_extras=True)
    for name, param in inspect.signature(callback).parameters.items():
        kind, said = get_args(hints[name])
        is_option = isinstance(said, OptionInfo)
        required = param.default is inspect.Parameter.empty
        first = (said.default,) if isinstance(said.default, str) else ()
        opts = (*first, *(said.param_decls or ())) or (f"--{name.replace('_', '-')}",)
        told = re.sub(r"\s+", " ", said.help or "").replace("|", "\\|")
        if not required and param.default not in {None, False, ""}:
            told += f" Default: `{param.default}`."
        yield _Param(
            opts=opts if is_option else (),
            value=_value(kind, said.metavar) if is_option else _word(name, kind, said.metavar),
            told=told,
            required=required,
        )


def _value(kind: Any, metavar: str | None) -> str:  # noqa: ANN401 - any annotation
    """Name what an option takes."""
    (inner, *_) = [each for each in get_args(kind) if each is not type(None)] or [kind]
    if inner is bool:
        return ""
    if isinstance(inner, type) and issubclass(inner, Enum):
        return "|".join(str(each.value) for each in inner)
    names: dict[object, str] = {Path: "FILE", int: "NUMBER", float: "NUMBER"}
    return metavar or names.get(inner, "TEXT")


def _word(name: str, kind: Any, metavar: str | None) -> str:  # noqa: ANN401 - any annotation
    """Name an argument; dots stand for several."""
    return (metavar or name.upper()) + "..." * (list in {kind, get_origin(kind)})


def api_page() -> str:
    """Return the functions of the front door with what they say of themselves, and the errors."""
    lines = [
        "# From Python",
        "",
        MADE,
        "",
        "`import packdown` loads nothing heavy; each function loads what it needs. Everything is",
        "typed. The examples run in a folder with a workspace `yard`, one after the other.",
        "",
    ]
    for function in FUNCTIONS:
        lines += _entry(f"{function.__name__}{_signature(function)}", function)
    lines += ["## Errors", ""]
    for name in packdown.__all__:
        each = getattr(packdown, name)
        if inspect.isclass(each):
            first = inspect.cleandoc(each.__doc__ or "").partition("\n")[0]
            lines.append(f"- `{name}`: {first}")
    return "\n".join([*lines, ""])


def _signature(function: Any) -> str:  # noqa: ANN401 - any function
    """Return a signature as it is written, but for quotation marks."""
    text = str(inspect.signature(function)).replace("'", "").replace("collections.abc.", "")
    return text.replace("str | os.PathLike[str]", "str | PathLike")


def _entry(heading: str, function: Any) -> Iterator[str]:  # noqa: ANN401 - any function
    yield f"## {function.__name__}"
    yield ""
    yield "```python"
    yield heading
    yield "```"
    yield ""
    yield from _body(inspect.cleandoc(function.__doc__ or "").split("\n"))


def _body(lines: list[str]) -> Iterator[str]:
    """Yield a docstring as Markdown: sections in bold, parameters as a list, examples as code."""
    code = False
    for index, line in enumerate(lines):
        below = lines[index + 1] if index + 1 < len(lines) else ""
        if set(line) == {"-"}:
            yield ""
            continue
        if set(below) == {"-"} and below:
            yield f"**{line}**"
            continue
        if line.startswith(">>>") and not code:
            yield "```python"
            code = True
        if code and not line:
            yield "```"
            code = False
        listed = line and not line.startswith(" ") and below.startswith("    ")
        yield f"- `{line}`:" if listed and not code else line.strip() if not code else line
    if code:
        yield "```"
    yield ""


PAGES = {FOLDER / "commands.md": commands_page, FOLDER / "api.md": api_page}


def main() -> None:
    """Write all pages."""
    FOLDER.mkdir(exist_ok=True)
    for path, page in PAGES.items():
        path.write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main()
