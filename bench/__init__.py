"""Speed and memory, made visible: `python3 run.py bench` prints one table. How to read it stands in README.md here.

Nothing in this folder decides whether a test passes; a busy machine must never make one fail.
"""
