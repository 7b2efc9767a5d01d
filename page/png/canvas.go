package png

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"

	"golang.org/x/image/vector"

	"tarry/page"
)

// canvas is a picture in the making.
type canvas struct {
	*image.RGBA
	scale   float64 // pixels to 1/100 mm
	opt     Options
	raster  vector.Rasterizer
	shape   outline // of the element being painted; kept for its memory
	missing map[rune]bool
	lettering
}

func newCanvas(width, height int, scale float64, opt Options) *canvas {
	c := &canvas{RGBA: image.NewRGBA(image.Rect(0, 0, width, height)), scale: scale, opt: opt, missing: map[rune]bool{}}
	if !opt.Transparent {
		ground(c.Pix, ink(page.Paper, opt))
	}
	return c
}

// ground covers all pixels, each step copying twice as many.
func ground(pix []uint8, k color.RGBA) {
	copy(pix, []uint8{k.R, k.G, k.B, k.A})
	for done := 4; done < len(pix); done *= 2 {
		copy(pix[done:], pix[:done])
	}
}

// picture returns what was painted, in the form that is encoded fastest: in
// greys only, if that is all there is.
func (c *canvas) picture() image.Image {
	switch {
	case c.opt.Transparent:
		return c.unblended()
	case c.opt.Mono:
		g := image.NewGray(c.Rect)
		for i := range g.Pix {
			g.Pix[i] = c.Pix[4*i]
		}
		return g
	}
	return c.RGBA
}

// unblended takes the share of the ground out of the colours, as a PNG file
// has them.
func (c *canvas) unblended() *image.NRGBA {
	m := &image.NRGBA{Pix: c.Pix, Stride: c.Stride, Rect: c.Rect}
	for i := 0; i < len(m.Pix); i += 4 {
		a := uint32(m.Pix[i+3])
		if a == 0 || a == 0xff {
			continue
		}
		for j := i; j < i+3; j++ {
			m.Pix[j] = uint8(min(0xff, (uint32(m.Pix[j])*0xff+a/2)/a))
		}
	}
	return m
}

func (c *canvas) element(e page.Element) {
	switch s := e.Shape.(type) {
	case page.Text:
		c.text(s, e.Style.Ink)
	case page.Hatch:
		if e.Style.Weight == page.NoStroke {
			return
		}
		pen := c.pen(e.Style)
		for _, l := range s.Lines() {
			c.shape.stroke([]point{c.point(l[0]), c.point(l[1])}, false, pen)
		}
		c.paint(e.Style.Ink)
	default:
		points, closed := c.flatten(e.Shape)
		c.line(points, closed, e.Style)
	}
}

// line fills, then strokes a line of points.
func (c *canvas) line(points []point, closed bool, style page.Style) {
	if len(points) == 0 {
		return
	}
	switch style.Fill {
	case page.Solid:
		c.shape.add(points)
		c.paint(style.Ink)
	case page.Knockout:
		c.shape.add(points)
		c.paint(page.Paper)
	}
	if style.Weight != page.NoStroke {
		c.shape.stroke(points, closed, c.pen(style))
		c.paint(style.Ink)
	}
}

func (c *canvas) pen(s page.Style) pen {
	stroke, gap := s.Dash.Pattern()
	return pen{
		half:  float64(s.Weight.Width()) * c.scale / 2,
		round: !s.Weight.Flat() && s.Dash == page.Full,
		dash:  float64(stroke) * c.scale,
		gap:   float64(gap) * c.scale,
	}
}

func (c *canvas) point(p page.Point) point {
	return point{float64(p.X) * c.scale, float64(p.Y) * c.scale}
}

// paint covers the outline that was gathered with an ink and empties it. Only
// the pixels around it are looked at.
func (c *canvas) paint(k page.Ink) {
	box := c.shape.bounds().Intersect(c.Rect)
	if !box.Empty() {
		c.raster.Reset(box.Dx(), box.Dy())
		c.raster.DrawOp = draw.Over
		for _, piece := range c.shape.pieces() {
			for i, q := range clip(piece, box) {
				x, y := float32(q.x-float64(box.Min.X)), float32(q.y-float64(box.Min.Y))
				if i == 0 {
					c.raster.MoveTo(x, y)
				} else {
					c.raster.LineTo(x, y)
				}
			}
			c.raster.ClosePath()
		}
		c.raster.Draw(c.RGBA, box, image.NewUniform(ink(k, c.opt)), image.Point{})
	}
	c.shape.reset()
}

// flatten returns a shape as a line of points in pixels.
func (c *canvas) flatten(s page.Shape) (points []point, closed bool) {
	switch s := s.(type) {
	case page.Poly:
		for _, q := range s.Points {
			points = append(points, c.point(q))
		}
		return points, s.Closed
	case page.Rect:
		return c.rect(s), true
	case page.Arc:
		whole := s.Sweep == 360 || s.Sweep == -360
		points = arc(c.point(s.Centre), float64(s.Radius)*c.scale, s.From, s.Sweep)
		if whole {
			points = points[:len(points)-1]
		}
		return points, whole
	}
	panic(fmt.Sprintf("png: unknown shape %T", s))
}

// rect runs clockwise from the end of the top left corner, as dashes do in SVG.
func (c *canvas) rect(s page.Rect) []point {
	a, b := c.point(s.Min), c.point(s.Max)
	r := min(float64(s.Round)*c.scale, (b.x-a.x)/2, (b.y-a.y)/2)
	if r <= 0 {
		return []point{a, {b.x, a.y}, b, {a.x, b.y}}
	}
	points := arc(point{b.x - r, a.y + r}, r, 270, 90)
	points = append(points, arc(point{b.x - r, b.y - r}, r, 0, 90)...)
	points = append(points, arc(point{a.x + r, b.y - r}, r, 90, 90)...)
	points = append(points, arc(point{a.x + r, a.y + r}, r, 180, 90)...)
	last := len(points) - 1
	return append([]point{points[last]}, points[:last]...)
}
