"""All that the program writes and says, kept in a folder, so that two states of it can be compared to the byte."""
