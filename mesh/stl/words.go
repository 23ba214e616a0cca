package stl

// words takes a text file apart into words, one after the other, through a
// window that grows only as far as the longest word or line.
type words struct {
	src  source
	buf  []byte // bytes of the file from base on
	base int64
	pos  int   // in buf: where the next word is looked for
	mark int   // in buf: where what must be kept begins
	from int64 // offset in the file of the word last returned
	err  error // of reading; every later word is empty

	// onBlock, when given, is called after each further block with its size.
	onBlock func(n int) error
}

// offset returns how far into the file the words are.
func (w *words) offset() int64 { return w.base + int64(w.pos) }

// more reads another block behind the window, of which it drops what stands
// before the mark. It returns false at the end of the file or on error.
func (w *words) more() bool {
	if w.err != nil {
		return false
	}
	at := w.base + int64(len(w.buf))
	kept := copy(w.buf, w.buf[w.mark:])
	w.buf, w.base, w.pos, w.mark = w.buf[:kept], w.base+int64(w.mark), w.pos-w.mark, 0
	next := int(max(0, min(blockBytes, w.src.size-at)))
	if cap(w.buf)-kept < next {
		grown := make([]byte, kept, 2*kept+next)
		copy(grown, w.buf)
		w.buf = grown
	}
	block, err := w.src.block(w.buf[kept:cap(w.buf)], at)
	if err == nil && w.onBlock != nil && len(block) > 0 {
		err = w.onBlock(len(block))
	}
	if err != nil {
		w.err = err
		return false
	}
	w.buf = w.buf[:kept+len(block)]
	return len(block) > 0
}

// longestWord is how many bytes of a word or a line are kept. What is longer is
// no word of STL, and must not fill the memory.
const longestWord = 1 << 16

// next returns the next word, or the first longestWord bytes of it, empty at the
// end of the file. It is good until the next call.
func (w *words) next() []byte {
	w.skip(isSpace)
	w.from = w.offset()
	return w.take(isSpace)
}

// line returns what is left of the line, or the first longestWord bytes of it.
// It is good until the next call.
func (w *words) line() []byte { return w.take(isLineEnd) }

func isLineEnd(b byte) bool { return b == '\n' || b == '\r' }
func inLine(b byte) bool    { return !isLineEnd(b) }

// take goes to the next byte of a kind, but no further than longestWord, and
// returns what it passed.
func (w *words) take(end func(byte) bool) []byte {
	for w.mark = w.pos; w.pos-w.mark < longestWord; w.pos++ {
		if w.pos == len(w.buf) && !w.more() || end(w.buf[w.pos]) {
			break
		}
	}
	return w.buf[w.mark:w.pos]
}

// skip goes past all bytes of a kind.
func (w *words) skip(kind func(byte) bool) {
	for {
		for w.pos < len(w.buf) && kind(w.buf[w.pos]) {
			w.pos++
		}
		if w.pos < len(w.buf) {
			return
		}
		if w.mark = w.pos; !w.more() {
			return
		}
	}
}

// lineAt returns the number of the line at an offset, from 1.
func lineAt(src source, offset int64) (int, error) {
	line := 1
	buf := make([]byte, blockBytes)
	var before byte
	for at := int64(0); at < offset; {
		block, err := src.block(buf[:min(offset-at, blockBytes)], at)
		if err != nil {
			return 0, err
		}
		line += lineBreaks(block)
		if before == '\r' && block[0] == '\n' {
			line--
		}
		before = block[len(block)-1]
		at += int64(len(block))
	}
	return line, nil
}
