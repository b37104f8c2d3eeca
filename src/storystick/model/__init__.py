"""The nouns of a piece of work: parts and their few shapes of cut, joints, fasteners, hardware, the whole build."""
