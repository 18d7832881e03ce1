package render

import "image/color"

// The colours of our drawings: a warm paper, ink of a dark slate, and one
// accent for what is measured and one for what is named.
var (
	paperColor   = color.NRGBA{250, 247, 240, 255}
	inkColor     = color.NRGBA{43, 48, 56, 255}
	quietColor   = color.NRGBA{110, 113, 116, 255}
	measureColor = color.NRGBA{18, 92, 108, 255}
	fretColor    = color.NRGBA{214, 214, 206, 255}
	markerColor  = color.NRGBA{226, 218, 198, 255}
	featureColor = color.NRGBA{150, 62, 30, 255}

	// Section fills. Wood and board of the solid views have their own light.
	woodFill  = color.NRGBA{236, 211, 168, 255}
	woodHatch = color.NRGBA{176, 134, 78, 255}
	boardFill = color.NRGBA{104, 74, 60, 255}
	barFill   = color.NRGBA{84, 91, 100, 255} // of carbon or metal
)
