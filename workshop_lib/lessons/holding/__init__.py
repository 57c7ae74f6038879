"""What belongs to lesson 01? Its panels and its exercises."""
