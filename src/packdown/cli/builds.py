"""Commands on single builds: draw, convert."""

from pathlib import Path
from typing import Annotated

import typer

from packdown.cli.app import Json, Output, app, show_problems, talk
from packdown.cli.stores import Yes, confirm, print_json, print_lines
from packdown.errors import InputError, UsageError
from packdown.files.converting import Detail

__all__: list[str] = []

BuildId = Annotated[str, typer.Argument(help="Id of the build.")]
Home = Annotated[Path, typer.Argument(help="Folder of the workspace.", show_default=True)]


@app.command()
def draw(
    build: BuildId, folder: Home = Path(), *, output: Output = None, as_json: Json = False
) -> None:
    """Show how a build stands, whatever is wrong with it: what begins at each height, from above.

    With -o, a drawing in perspective is written to a file .svg.
    """
    from packdown.files import read_standing, write_text
    from packdown.report.sketch import sketch, sketch_lines

    if output and output.suffix.lower() != ".svg":
        raise UsageError(f"{output.name}: expected a file .svg")
    standing = read_standing(folder, build)
    letters, storeys = sketch(standing.pieces, standing.square_um)
    if as_json:
        print_json({"build": build, "letters": letters, "storeys": storeys})
    else:
        print_lines(sketch_lines(letters, storeys))
    if output:
        from packdown.report.pictures import standing_pictures
        from packdown.report.standalone import svg_file

        write_text(svg_file(standing_pictures(standing.pieces, letters, build)), output)
        talk().print(f"Drawing: {output}", markup=False)
    if standing.problems:
        show_problems(standing.problems)
        raise typer.Exit(InputError.exit_code)


@app.command()
def convert(
    build: BuildId,
    folder: Home = Path(),
    *,
    to: Annotated[Detail, typer.Option("--to", help="The detail to describe it in.")],
    cell: Annotated[
        float | None, typer.Option("--cell", min=0.1, help="Squares that a drawn cell is long.")
    ] = None,
    write: Annotated[
        bool, typer.Option("--write", help="Put it into the file in place of what is there.")
    ] = False,
    yes: Yes = False,
    as_json: Json = False,
) -> None:
    """Describe a build in another detail and keep what is known: print it, or write it."""
    from packdown.files import read_standing, write_text
    from packdown.files.converting import convert as convert_build
    from packdown.files.toml_text import replaced

    square_um = read_standing(folder, build).square_um if cell else None
    cell_um = round(cell * square_um) if cell and square_um else None
    found = convert_build(folder, build, to, cell_um)
    if as_json:
        print_json({"build": build, "file": found.file.name, "text": found.text,
                    "complete": found.complete, "lost": found.lost})  # fmt: skip
    else:
        print_lines(found.text.splitlines())
    for what in found.lost:
        talk().print(f"No longer said: {what}.", markup=False)
    if not found.complete:
        talk().print("This is a draft: put its pieces in their places by hand.", markup=False)
    if not write:
        return
    if not found.complete:
        raise UsageError("a draft is not written in place of what can be read")
    before = found.file.read_text(encoding="utf-8-sig")
    after = replaced(before, "builds", build, found.text)
    confirm(f"Write this to {found.file}? Comments within the build are lost.", yes=yes)
    write_text(after, found.file)
    talk().print(f"Written: {found.file}", markup=False)
