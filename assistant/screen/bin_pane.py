"""The bins as they now stand, drawn as they stand: a frame a bin, its tiers on one another, top on top."""

from __future__ import annotations

from collections.abc import Iterator

from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from assistant.screen.values import Stack, Standing, Tray


class Tier(Static):
    """One tier: what lies in it, what is due, what does not add up; each told by its first word or sign."""

    def __init__(self, tray: Tray) -> None:
        parts: list[Content | tuple[str, str]] = [(tray.label, "bold")]
        parts += [Content(f"\n{fact}") for fact in tray.facts]
        parts += [(f"\ndue: {due}", "bold $text-warning") for due in tray.due]
        parts += [(f"\ndoubt: {doubt}", "italic") for doubt in tray.doubts]
        super().__init__(Content.assemble(*parts), markup=False)


class Bin(Vertical):
    """One bin, its name on its lid."""

    def __init__(self, stack: Stack) -> None:
        super().__init__(*map(Tier, stack.trays))
        self.border_title = Content(stack.name)


class BinPane(VerticalScroll):
    """All bins. Shown beside the conversation where there is room, in its place where there is not."""

    HELP = """
    # The bins

    Each frame is a bin, each part of it a tier, the top one on top: when it was fed, what food waits,
    how wet it was when last seen, what is due, and what does not add up.
    """

    async def show(self, standing: Standing) -> None:
        """Draw the bins anew; the place scrolled to is kept."""
        with self.app.batch_update():
            await self.remove_children()
            await self.mount_all(list(_drawn(standing)))

    async def tell(self, text: str) -> None:
        """A line in the place of the bins."""
        with self.app.batch_update():
            await self.remove_children()
            await self.mount(Static(text, markup=False))


def _drawn(standing: Standing) -> Iterator[Widget]:
    if not standing.stacks:
        yield Static("No bins yet.", markup=False)
    yield from map(Bin, standing.stacks)
    if standing.loose.due or standing.loose.doubts:
        yield Tier(standing.loose)
