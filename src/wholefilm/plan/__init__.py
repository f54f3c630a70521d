"""Proposals for people to decide on: voltages of cited documents side by side, methods as a question, a note of physics."""

from .film import BASES, Film
from .methods import MethodRow, MethodSays, methods
from .note import Note, planning_note
from .side import Side, SideRow, side_by_side

__all__ = ["BASES", "Film", "MethodRow", "MethodSays", "Note", "Side", "SideRow", "methods", "planning_note", "side_by_side"]
