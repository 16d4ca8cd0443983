package scenes

import "testing"

func TestTheWaterOfTheHarbourIsOnTheRightAndTheHousesOnTheLeft(t *testing.T) {
	s := get(t, "harbour-night")
	if red := s.Lamps; red[0].At.X >= 0 {
		t.Error("the oncoming car drives on the patient's left")
	}
	if s.Window.XDeg <= 0 {
		t.Error("the window lies over the water, on the right")
	}
	// The front of a house against the sky over the water.
	if house, sky := near(s, -13.5, 3), near(s, 10, 8); house < 2*sky {
		t.Errorf("left %g, right %g cd/m²: houses belong on the left", house, sky)
	}
}

func TestTheStreetHasItsSkyAbove(t *testing.T) {
	s := get(t, "street-day")
	if sky, road := near(s, 2, 9), near(s, 2, -7); sky < 3*road {
		t.Errorf("sky %g, road %g cd/m²", sky, road)
	}
}
