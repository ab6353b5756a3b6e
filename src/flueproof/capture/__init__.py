"""The small agent beside an analyzer: reads lines, keeps them on disk, sends them to the shop once and in order.

Standard library and pyserial only, and nothing else of this house: the same files are also installed alone, under the
name `flueproof_capture` (packaging/capture). Hence the imports inside this folder are relative.
"""
