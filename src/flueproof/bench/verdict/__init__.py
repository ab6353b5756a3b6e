"""The verdict: which outcome and which ordered actions the judged points, the path and the order call for."""
