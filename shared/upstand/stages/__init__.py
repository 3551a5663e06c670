"""Stages between layout and verdict: materials, packs, times, dew point."""
