"""What is heard: tones, speech, and when they may sound."""
