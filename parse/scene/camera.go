package scene

// Camera describes the lens of a camera part, which looks down its own -Z with
// +Y up. A channel index of NoChannel means that the value is static.
type Camera struct {
	Part         PartID
	Orthographic bool
	// FocalLength and the apertures are in one and the same unit (USD: tenths
	// of a scene unit; others: whatever gives the right field of view).
	// For an orthographic camera the apertures are the width and height of
	// the picture in scene units.
	FocalLength                              float64
	HorizontalAperture, VerticalAperture     float64
	HorizontalOffset, VerticalOffset         float64
	FocalLengthChannel                       ChannelID
	HorizontalChannel, VerticalChannel       ChannelID
	HorizontalOffsetChan, VerticalOffsetChan ChannelID
	// AspectKnown is false when the file gives only one aperture or field of
	// view, so that the picture's aspect must come from the configuration.
	AspectKnown bool
	Near, Far   float64
}
