// Package svg draws results as pictures. It computes places on the page and
// nothing else: every number is in the result that it is given.
package svg

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"bellyline/cmd/bellyline/plain"
)

// point is a place on the page, in units of about a screen's pixel, down is up.
type point struct{ x, y float64 }

// canvas collects the elements of a picture.
type canvas struct {
	wide, tall float64
	body       strings.Builder
}

func (c *canvas) element(format string, args ...any) { fmt.Fprintf(&c.body, format+"\n", args...) }

// polygon fills closed loops; what they wind round counts once.
func (c *canvas) polygon(class string, loops ...[]point) {
	c.element(`<path class="%s" d="%s"/>`, class, pathOf(loops, "Z"))
}

func (c *canvas) line(class string, points ...point) {
	if len(points) > 1 {
		c.element(`<path class="%s" d="%s"/>`, class, pathOf([][]point{points}, ""))
	}
}

// clipped fills the part of loops that lies in a rectangle.
func (c *canvas) clipped(id, class string, loops [][]point, from, to point) {
	c.element(`<clipPath id="%s"><path d="%s"/></clipPath>`, id, pathOf(loops, "Z"))
	c.element(`<rect class="%s" clip-path="url(#%s)" x="%.2f" y="%.2f" width="%.2f" height="%.2f"/>`,
		class, id, min(from.x, to.x), min(from.y, to.y), max(from.x, to.x)-min(from.x, to.x), max(from.y, to.y)-min(from.y, to.y))
}

func (c *canvas) text(class string, at point, format string, args ...any) {
	c.element(`<text class="%s" x="%.2f" y="%.2f">%s</text>`, class, at.x, at.y, escaped(fmt.Sprintf(format, args...)))
}

func pathOf(loops [][]point, end string) string {
	var d strings.Builder
	for _, loop := range loops {
		for i, p := range loop {
			command := "L"
			if i == 0 {
				command = "M"
			}
			fmt.Fprintf(&d, "%s%.2f %.2f", command, p.x, p.y)
		}
		d.WriteString(end)
	}
	return d.String()
}

// escaped makes text from files fit for a picture.
func escaped(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(plain.Line(s))); err != nil {
		return ""
	}
	return b.String()
}

// write puts the picture together: one file that needs no other.
func (c *canvas) write(w io.Writer, title, style string) error {
	_, err := fmt.Fprintf(w, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %.0f %.0f\" width=\"%.0f\" height=\"%.0f\" role=\"img\">\n<title>%s</title>\n<style>%s</style>\n<rect class=\"page\" width=\"100%%\" height=\"100%%\"/>\n%s</svg>\n",
		c.wide, c.tall, c.wide, c.tall, escaped(title), style, c.body.String())
	return err
}
