"""Every declared formula's law a second time, in plain Python, a file for each chapter. Other forms where there are some: halving in place of an inverse, areas and
small steps in place of a closed form. Constants stand beside their source; spans are the handbook's own choice, and stand here so that none is moved unseen.
"""

from laws_by_hand import air, day, film, gun, job, last, mix, pot, room
from laws_by_hand.law import LAWS, compare

__all__ = ["LAWS", "air", "compare", "day", "film", "gun", "job", "last", "mix", "pot", "room"]
