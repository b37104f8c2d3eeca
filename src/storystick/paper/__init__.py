"""Paper: drawings and the packet that goes to the bench. It reckons no lengths: every number comes from the model."""
