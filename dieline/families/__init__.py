"""A family of sizes: a table in, a folder of proved drawings and a summary out."""

from .plan import Item, plan_items
from .runner import FamilyResult, family

__all__ = ["FamilyResult", "Item", "family", "plan_items"]
