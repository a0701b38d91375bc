"""Worms put in and taken out."""

from __future__ import annotations

from assistant.balance.steps.post import Post
from assistant.balance.steps.stock import draw, into_stock


def added(post: Post) -> None:
    """Worms put in, from stock where some were bought."""
    _flow(post, 1)
    draw(post)


def removed(post: Post) -> None:
    """Worms taken out, into stock: from there they are sold, given away, or put in elsewhere."""
    _flow(post, -1)
    into_stock(post, 1)


def _flow(post: Post, sign: int) -> None:
    if post.place:
        name = post.books.trade.converter.name_of(post.record.item or "worms", "organism")
        post.place.worms.setdefault(name, []).append(post.flow(sign))
