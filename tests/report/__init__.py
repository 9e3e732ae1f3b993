"""Tests of what is told before and after the practice."""
