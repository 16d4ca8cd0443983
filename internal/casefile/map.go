package casefile

import (
	"bytes"
	"fmt"

	"simview/internal/cornea"
)

// cornealMap reads a measured map of the cornea.
func (d *decoder) cornealMap(m *CornealMap, path string) {
	if d.failed(path) {
		return
	}
	data, ok := d.beside(m.CSV, path+".csv", "map")
	if !ok {
		return
	}
	front, err := cornea.ReadMap(bytes.NewReader(data), m.CSV, cornea.Layout(m.Layout), cornea.Quantity(m.Of))
	if err != nil {
		d.add(path, "cannot be used: "+err.Error(), "", "the form of a map is described in docs/case.md")
		return
	}
	m.Front = front
}

// words says what was read of the map.
func (m *CornealMap) words() string {
	f := m.Front
	return fmt.Sprintf("Cornea: map of %s (%s) over %.1f mm: best-fit radius %.2f mm, Q %+.2f; %.3f µm RMS in the orders from 3 up, %.3f µm RMS finer.",
		m.Of, m.Layout, 2*f.RadiusMM, f.Best.RadiusMM, f.Best.Q, f.Terms.RMSOrders(3, f.Terms.Order()), f.Fine.RMSUM)
}
