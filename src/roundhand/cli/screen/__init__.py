"""How answers look on a terminal and in a pipe: lines with tones, marks under the words, tables."""
