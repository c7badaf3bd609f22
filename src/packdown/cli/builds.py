"""Commands on single builds: draw, convert."""

from pathlib import Path
from typing import Annotated

import typer

from packdown.cli.app import Json, Output, app, show_problems, talk
from packdown.cli.stores import print_json, print_lines
from packdown.errors import InputError, UsageError

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
