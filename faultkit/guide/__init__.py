"""The guided session on a call: a line in, blocks of text and entries out; the terminal is elsewhere."""

from faultkit.guide.blocks import Block, layout
from faultkit.guide.session import Reply, Session
from faultkit.guide.steps import answer, start

__all__ = ["Block", "Reply", "Session", "answer", "layout", "start"]
