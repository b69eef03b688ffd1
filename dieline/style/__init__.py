"""What dieline offers to authors of styles; a style imports from here and nowhere else.

A style is a value of class ``Style``: it declares its parameters and has a ``build`` that turns an ``Order`` into a
``Design``. See docs/styles.md, and ``dieline.testing`` for the suite that every style must pass.
"""

from ..blank import Blank, Face, Fold, Joint, JointKind, Mark, Panel, Role, Seam
from ..board import Board
from ..errors import InputError, OptionError, SizeError, StyleError
from ..geometry.arc import Point
from ..geometry.path import Frame, Path, circle, line, obround, polygon, polyline, rectangle, rounded
from ..linetypes import Meaning
from ..sizing import House, Quantity, SizeLine, span
from ..units import Size, format_mm
from .contract import CONTRACT, FourthSize, Style
from .design import Closed, Design, Gauge, Lock, Motion, Piece, Slide, Stand, State, Step
from .order import Order, settle
from .parameter import Kind, Parameter, Value, angle, choice, count, length, number, switch
from .sheet import Sheet

__all__ = [
    "CONTRACT",
    "Blank",
    "Board",
    "Closed",
    "Design",
    "Face",
    "Fold",
    "FourthSize",
    "Frame",
    "Gauge",
    "House",
    "InputError",
    "Joint",
    "JointKind",
    "Kind",
    "Lock",
    "Mark",
    "Meaning",
    "Motion",
    "OptionError",
    "Order",
    "Panel",
    "Parameter",
    "Path",
    "Piece",
    "Point",
    "Quantity",
    "Role",
    "Seam",
    "Sheet",
    "Size",
    "SizeError",
    "SizeLine",
    "Slide",
    "Stand",
    "State",
    "Step",
    "Style",
    "StyleError",
    "Value",
    "angle",
    "choice",
    "circle",
    "count",
    "format_mm",
    "length",
    "line",
    "number",
    "obround",
    "polygon",
    "polyline",
    "rectangle",
    "rounded",
    "settle",
    "span",
    "switch",
]
