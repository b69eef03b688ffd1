"""From the blank to what a writer may see: ordered strokes, texts and dimensions."""
