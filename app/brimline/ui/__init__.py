"""Everything Qt. It sees snapshots of a running check and results of queries, and shows them.

No screen decides whether a step is allowed; it shows what the gate said.
"""
