"""What a maker knows: joints, kinds of assembly, fits, hardware. Nothing above this floor knows a joint by name."""
