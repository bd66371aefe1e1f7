"""What golfers wear, as triangles around a posed body."""
