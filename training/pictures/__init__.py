"""Pictures of the golfers: cameras, places, light, and the renderer that draws them."""
