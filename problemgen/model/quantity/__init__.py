"""Which quantity, of what: the vocabulary that templates, laws, keys and worked solutions share."""

from problemgen.model.quantity.kinds import CONSTANT_KINDS, KINDS, Kind
from problemgen.model.quantity.quantity import Quantity, read_quantity
from problemgen.model.quantity.roles import SOLUTION_AT, TEMPLATE_ROLES, Role

__all__ = ["CONSTANT_KINDS", "KINDS", "SOLUTION_AT", "TEMPLATE_ROLES", "Kind", "Quantity", "Role", "read_quantity"]
