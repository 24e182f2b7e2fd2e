"""What a keeper's own records of a species add up to, with how much each figure rests on.

Every figure tells its interval, the animals and the entries behind it. From fewer than
:data:`ENOUGH` animals it is what was seen, and says so: no claim about the species.
"""

from bot.husbandry.evidence.findings import ENOUGH, Finding, by_species, findings

__all__ = ["ENOUGH", "Finding", "by_species", "findings"]
