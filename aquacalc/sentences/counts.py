"""Numbers of fish on which the tries do not agree, in the same words wherever they stand."""

from aquacalc import words
from aquacalc.words import Reader


def counted(middle: float, low: float, high: float, reader: Reader) -> str:
    """The middle, and the spread behind it where there is one.

    >>> counted(27, 20, 29, Reader()), counted(8, 8, 8, Reader())
    ('27 (20 to 29)', '8')
    """
    count = words.number(middle, digits=9)
    if not low < high:  # also where the spread is not known
        return count
    ends = {"low": words.number(low, digits=9), "high": words.number(high, digits=9)}
    return words.say("count-spread", reader, count=count, **ends)
