"""What a change of a catalogue does: to the trees, and to recorded calls."""
