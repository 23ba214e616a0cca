package stl

import (
	"context"
	"errors"
	"fmt"
	"io"
)

// blockBytes is how much of a file is worked on at once: large enough that a
// system call is cheap, small enough for a processor's cache, and for an
// interrupt to be seen within a millisecond or so.
const blockBytes = 1 << 18

// source is a file of known size whose bytes can be had in any order, by
// several workers at once.
type source struct {
	io.ReaderAt
	size int64
}

// block returns the bytes from offset on, in buf: as many as fit, less only at
// the end of the file. A file that shrank since its size was taken is an error.
func (s source) block(buf []byte, offset int64) ([]byte, error) {
	want := min(int64(len(buf)), s.size-offset)
	if want <= 0 {
		return nil, nil
	}
	n, err := s.ReadAt(buf[:want], offset)
	if int64(n) == want {
		return buf[:want], nil
	}
	if err == nil || errors.Is(err, io.EOF) {
		return nil, &FormatError{Byte: offset + int64(n), Err: ErrTruncated,
			Msg:  "the file became shorter while it was read",
			Hint: "let the program that writes it finish first"}
	}
	return nil, err
}

// pieces is a file in memory, in pieces of blockBytes of which only the last
// may be shorter. So what comes down a pipe is never copied to grow, and never
// takes more than its size.
type pieces struct {
	list [][]byte
	size int64
}

// ReadAt implements io.ReaderAt.
func (p *pieces) ReadAt(buf []byte, offset int64) (int, error) {
	n := 0
	for n < len(buf) && offset < p.size {
		piece := p.list[offset/blockBytes][offset%blockBytes:]
		taken := copy(buf[n:], piece)
		n += taken
		offset += int64(taken)
	}
	if n < len(buf) {
		return n, io.EOF
	}
	return n, nil
}

// longestStream bounds what is read from a pipe or device, which may never end:
// a binary model of 80 million facets.
const longestStream = 4 << 30

// collect reads r to its end.
func collect(ctx context.Context, r io.Reader, progress *meter) (source, error) {
	p := &pieces{}
	for {
		buf := make([]byte, blockBytes)
		n := 0
		for n < len(buf) {
			got, err := r.Read(buf[n:])
			n += got
			progress.add(got)
			if errors.Is(err, io.EOF) {
				p.add(buf[:n])
				return source{p, p.size}, nil
			}
			if err != nil {
				return source{}, err
			}
			if err := ctx.Err(); err != nil {
				return source{}, err
			}
		}
		p.add(buf)
		if p.size > longestStream {
			return source{}, &FormatError{Err: ErrTooLarge, Msg: fmt.Sprintf("more than %d GiB came in and no end", longestStream>>30), Hint: "give the model as a file"}
		}
	}
}

// add appends a piece, which must be the last if it is a short one.
func (p *pieces) add(piece []byte) {
	if len(piece) > 0 {
		p.list = append(p.list, piece)
		p.size += int64(len(piece))
	}
}
