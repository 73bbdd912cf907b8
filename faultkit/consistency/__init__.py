"""What can be proved about a catalogue before anybody uses it."""
