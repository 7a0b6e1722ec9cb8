"""Formula: declared once, used four ways (numpy, JavaScript, print, worked example)."""

from generators.formula.declare import Formula
from generators.formula.parts import (
    Choice,
    Condition,
    Constant,
    DeclarationError,
    InputError,
    Let,
    Option,
    OutOfRange,
    Root,
    Symbol,
)
from generators.formula.worked import Worked

__all__ = ["Choice", "Condition", "Constant", "DeclarationError", "Formula", "InputError", "Let", "Option",
           "OutOfRange", "Root", "Symbol", "Worked"]
