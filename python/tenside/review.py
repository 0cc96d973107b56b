"""A formula compared with dated lists of rules."""

from tenside._native import Finding, Flag, Review, Reviewer, Rule, RuleList, Unchecked

__all__ = ["Finding", "Flag", "Review", "Reviewer", "Rule", "RuleList", "Unchecked"]
