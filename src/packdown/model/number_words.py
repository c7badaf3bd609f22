"""Numbers in words."""

from collections.abc import Iterable

__all__ = ["runs"]


def runs(numbers: Iterable[int]) -> str:
    """Say numbers in order, three or more in a row by their ends.

    >>> runs([1, 2, 4, 5, 6])
    '1, 2 and 4 to 6'
    """
    rows: list[list[int]] = []
    for number in sorted(numbers):
        if rows and number == rows[-1][-1] + 1:
            rows[-1].append(number)
        else:
            rows.append([number])
    said: list[str] = []
    for row in rows:
        said += [f"{row[0]} to {row[-1]}"] if len(row) > 2 else [str(number) for number in row]
    return " and ".join(filter(None, (", ".join(said[:-1]), *said[-1:])))
