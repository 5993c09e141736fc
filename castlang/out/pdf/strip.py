"""Strips: bands as wide as the page's text, that are set one below the other until a page is full."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from castlang.out.pdf.pen import Pen

TIGHT = 0.5  # of the white between strips, where a page is saved by it

Draw = Callable[[Pen, float, float], None]  # with a pen, from the left edge, down from the top


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What a sheet's strips may fill on a page, in points. tight: less white within and between them."""

    width: float
    height: float
    tight: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A band that is not divided. before: white above it, dropped at the top of a page.
    with_next: never the last of a page. repeat: what stands above it when it begins a page."""

    height: float
    draw: Draw
    before: float = 0.0
    with_next: bool = False
    repeat: "Strip | None" = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A strip and how far its top lies below the top of the room, in points."""

    strip: Strip
    down: float


Page = tuple[Placed, ...]


def pages(strips: Sequence[Strip], room: Room) -> tuple[Page, ...]:
    """The strips set on as many pages as they need, at least one."""
    white = TIGHT if room.tight else 1.0
    done: list[Page] = []
    page: list[Placed] = []
    used = 0.0
    for group in _groups(strips, room.height):
        needed = sum(strip.before * white + strip.height for strip in group)
        if page and used + needed > room.height + 0.01:
            done.append(tuple(page))
            page, used = [], 0.0
            if group[0].repeat is not None:
                page.append(Placed(strip=group[0].repeat, down=0.0))
                used = group[0].repeat.height
        for strip in group:
            used += strip.before * white if page else 0.0
            page.append(Placed(strip=strip, down=used))
            used += strip.height
    if page or not done:
        done.append(tuple(page))
    return tuple(done)


def kept(strips: Sequence[Strip]) -> Iterable[Strip]:
    """Strips of one thing, none of them alone on a page: the first stays with the second, the last with the
    one before."""
    for number, strip in enumerate(strips, start=1):
        tied = number in (1, len(strips) - 1) and number < len(strips)
        yield replace(strip, with_next=True) if tied else strip


def _groups(strips: Iterable[Strip], most: float) -> Iterable[list[Strip]]:
    """Strips that must stand on one page; one by one where together they are higher than `most`."""
    group: list[Strip] = []
    for strip in strips:
        group.append(strip)
        if not strip.with_next:
            yield from _parted(group, most)
            group = []
    yield from _parted(group, most)


def _parted(group: list[Strip], most: float) -> list[list[Strip]]:
    if not group:
        return []
    again = group[0].repeat
    high = sum(strip.before + strip.height for strip in group) + (again.height if again is not None else 0.0)
    return [[strip] for strip in group] if high > most else [group]
