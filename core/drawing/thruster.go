package drawing

// Thruster is a bow thruster, seen as the mouth of its tunnel.
type Thruster struct{ unseen }

// The tunnel of a bow thruster, m: common practice, no source.
const (
	TunnelShare  = 0.86 // of the length, from the aft end
	TunnelDepth  = 0.16 // of its axis above the keel
	TunnelRadius = 0.07
)

// onSide draws the mouth of the tunnel, which the near side of the hull shows as a circle.
func (Thruster) onSide(p *profile) {
	x := p.l.aft + float64(TunnelShare*p.l.length())
	p.ellipse(p.at(x, p.l.keelAt.Predict(x)+TunnelDepth), TunnelRadius*p.scale, TunnelRadius*p.scale, "fill", "#3a444a",
		"stroke", Metal)
}
