"""Which quantity, of what: the vocabulary that templates, laws, keys and worked solutions share."""

from problemgen.model.quantity.kinds import KINDS, LAST_FACTOR, PROBLEM_KINDS, Kind
from problemgen.model.quantity.quantity import NAME, OVERALL_EXTENT, Quantity, kind_named, quantity_named, read_quantity
from problemgen.model.quantity.role_words import RoleWords
from problemgen.model.quantity.roles import SOLUTION_AT, TAKEN_ROLES, TEMPLATE_ROLES, Role

__all__ = [
    "KINDS",
    "LAST_FACTOR",
    "NAME",
    "OVERALL_EXTENT",
    "PROBLEM_KINDS",
    "SOLUTION_AT",
    "TAKEN_ROLES",
    "TEMPLATE_ROLES",
    "Kind",
    "Quantity",
    "Role",
    "RoleWords",
    "kind_named",
    "quantity_named",
    "read_quantity",
]
