package sheet

import (
	"fmt"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/look"
)

// hoopPictures draw the hoops of a frame as they are bent, one for each tube, with the marks along it; none for a frame
// of straight lengths.
func hoopPictures(e *engine.Engine, p *ShopParts) (list []look.Picture, err error) {
	if p == nil {
		return nil, nil
	}
	for i, t := range p.Tube {
		// straight lengths are cut by the list alone
		if t.Hoops == 0 {
			continue
		}
		// by the same parts as the length that is bought, so that the marks end where the tube does
		picture, err := look.Draw(e, fmt.Sprintf("hoop-%d", i+1), e.Say("sheet.hoop"), drawing.Hoop{Name: t.Material,
			Width: t.WidthM, Height: t.HeightM, Radius: t.RadiusM, Crown: t.CrownM,
			Notes: []string{e.Say("sheet.hoop-note")}}, drawing.Format{})
		if err != nil {
			return nil, err
		}
		list = append(list, picture)
	}
	return list, nil
}
