"""Questions as they come in: request schemas, one file a question, and the faults they raise."""

from upstand.query.faults import Fault, QueryFaults
from upstand.query.model import Member, Now, Plate, Query
from upstand.query.requirements import read_requirements

__all__ = ["Fault", "Member", "Now", "Plate", "Query", "QueryFaults", "read_requirements"]
