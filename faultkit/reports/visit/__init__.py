"""The report of a call: for the customer in plain words, for the shop with readings and proofs."""
