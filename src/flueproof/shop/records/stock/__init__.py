"""The parts store: what comes in, goes out, is counted, reserved and ordered."""
