"""What belongs to lesson 04? Its panels and its exercises."""
