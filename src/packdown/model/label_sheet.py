"""Sheets of labels: paper that is cut into a grid of equal labels."""

from dataclasses import dataclass

__all__ = ["LabelSheet"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheet:
    """Where the labels lie on one kind of sheet.

    Parameters
    ----------
    id
        Short name, such as ``a4-8``.
    paper_um
        Width and height of the paper.
    columns, rows
        Labels side by side, and one below the other.
    label_um
        Width and height of one label.
    margin_um
        From the left and from the top of the paper to the first label.
    gap_um
        Between two labels side by side, and between two one below the other.
    """

    id: str
    paper_um: tuple[int, int]
    columns: int
    rows: int
    label_um: tuple[int, int]
    margin_um: tuple[int, int]
    gap_um: tuple[int, int]

    def __post_init__(self) -> None:
        for axis, span in enumerate(self.span_um):
            if span > self.paper_um[axis]:
                raise ValueError(
                    f"label sheet {self.id}: its labels end {span - self.paper_um[axis]} um "
                    f"{('right of', 'below')[axis]} the paper"
                )

    @property
    def per_sheet(self) -> int:
        """Number of labels on one sheet."""
        return self.columns * self.rows

    @property
    def span_um(self) -> tuple[int, int]:
        """Right and lower end of the last label, from the left and the top of the paper."""
        return (self._start(0, self.columns - 1) + self.label_um[0],
                self._start(1, self.rows - 1) + self.label_um[1])  # fmt: skip

    def corner(self, index: int) -> tuple[int, int]:
        """Return the upper left corner of a label, from the left and the top of the paper.

        Parameters
        ----------
        index
            Counts from 0, row by row from the top, each row from the left.

        Raises
        ------
        ValueError
            If the sheet has no such label.
        """
        if not 0 <= index < self.per_sheet:
            raise ValueError(f"label sheet {self.id} has no label {index}")
        row, column = divmod(index, self.columns)
        return self._start(0, column), self._start(1, row)

    def _start(self, axis: int, number: int) -> int:
        return self.margin_um[axis] + number * (self.label_um[axis] + self.gap_um[axis])
