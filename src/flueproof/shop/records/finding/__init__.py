"""Finding: one box for owner, phone, serial, job, certificate, cylinder."""
