"""Cases: calls with what must come of them, kept beside the trees as their tests."""
