package wire

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"

	"go.lsp.dev/jsonrpc2"
)

const (
	// maxMessage bounds one message: the largest file that is read, escaped.
	maxMessage = 2 << 30
	// maxHeader bounds one line of a message's header.
	maxHeader = 4 << 10
	// keptBuffer is the largest buffer that is kept for the next message, so
	// that one large file does not hold its size for the whole session.
	keptBuffer = 1 << 20
)

// Stream reads and writes messages with the protocol's Content-Length header.
// Unlike the library's it goes on after a message that is no JSON-RPC: the
// sender is told and the next message is read. It also gives back the memory
// of large messages.
type Stream struct {
	// LongTexts is where the texts of long didOpen messages go, or nil.
	LongTexts *LongTexts

	conn io.ReadWriteCloser
	in   *bufio.Reader
	body []byte

	writing sync.Mutex
	out     []byte
}

// NewStream returns the stream of messages over conn, which it owns.
func NewStream(conn io.ReadWriteCloser) *Stream {
	return &Stream{conn: conn, in: bufio.NewReaderSize(conn, 64<<10)}
}

// Read returns the next message that is one. What it returns borrows the
// stream's buffer until the next call.
func (s *Stream) Read(ctx context.Context) (jsonrpc2.Message, int64, error) {
	for {
		if err := ctx.Err(); err != nil {
			return nil, 0, err
		}
		body, err := s.readBody()
		if err != nil {
			return nil, 0, err
		}
		size := int64(len(body))
		if s.LongTexts != nil && len(body) >= longMessage {
			// What is too long for s.body belongs to this message alone.
			body, _ = s.LongTexts.cut(body, len(body) > keptBuffer)
		}
		m, err := jsonrpc2.DecodeMessage(body)
		if err == nil {
			return m, size, nil
		}
		if err := s.refuse(ctx, err); err != nil {
			return nil, 0, err
		}
	}
}

// refuse answers a message that could not be read and so has no known id.
func (s *Stream) refuse(ctx context.Context, cause error) error {
	answer := jsonrpc2.Errorf(jsonrpc2.ParseError, "expected one JSON-RPC 2.0 message, found something else: %v", cause)
	if errors.Is(cause, jsonrpc2.ErrInvalidRequest) {
		answer.Code = jsonrpc2.InvalidRequest
	}
	_, err := s.Write(ctx, jsonrpc2.NewResponse(jsonrpc2.ID{}, nil, answer))
	return err
}

// readBody returns the body of the next message. A header that names no
// usable length is passed over: what follows is searched for the next header.
func (s *Stream) readBody() ([]byte, error) {
	if cap(s.body) > keptBuffer {
		s.body = nil
	}
	length := -1
	for {
		line, err := s.readLine()
		if err != nil {
			return nil, err
		}
		if line != "" {
			if n, ok := contentLength(line); ok {
				length = n
			}
			continue
		}
		if length > 0 {
			return s.readFull(length)
		}
		length = -1
	}
}

// readLine returns the next header line without its end; the part of a line
// beyond maxHeader is dropped.
func (s *Stream) readLine() (string, error) {
	var line []byte
	for {
		part, err := s.in.ReadSlice('\n')
		if len(line) < maxHeader {
			line = append(line, part[:min(len(part), maxHeader)]...)
		}
		switch {
		case err == nil:
			return strings.TrimRight(string(line), "\r\n"), nil
		case errors.Is(err, bufio.ErrBufferFull):
		case errors.Is(err, io.EOF) && len(line) > 0:
			return "", io.ErrUnexpectedEOF
		default:
			return "", err
		}
	}
}

// contentLength reads a Content-Length field.
func contentLength(line string) (int, bool) {
	name, value, found := strings.Cut(line, ":")
	if !found || !strings.EqualFold(strings.TrimSpace(name), "Content-Length") {
		return 0, false
	}
	n, err := strconv.Atoi(strings.TrimSpace(value))
	return n, err == nil && n > 0 && n <= maxMessage
}

// trusted is how many times as long as what has arrived of a message its claimed
// length may be for room to be made at once.
const trusted = 16

// readFull reads n bytes. Memory grows with what really arrives, since n is
// only a claim.
func (s *Stream) readFull(n int) ([]byte, error) {
	if n > cap(s.body) && n <= keptBuffer {
		s.body = make([]byte, n)
	}
	if n <= cap(s.body) {
		_, err := io.ReadFull(s.in, s.body[:n])
		return s.body[:n], unexpected(err)
	}
	body := make([]byte, keptBuffer)
	for got := 0; ; {
		more, err := io.ReadFull(s.in, body[got:])
		if got += more; err != nil || got == n {
			return body[:got], unexpected(err)
		}
		larger := make([]byte, min(n, trusted*got))
		copy(larger, body)
		body = larger
	}
}

// unexpected turns an end of input inside a message into what it is.
func unexpected(err error) error {
	if errors.Is(err, io.EOF) {
		return io.ErrUnexpectedEOF
	}
	return err
}

// Write sends a message in one piece.
func (s *Stream) Write(ctx context.Context, m jsonrpc2.Message) (int64, error) {
	if err := ctx.Err(); err != nil {
		return 0, err
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	const room = len("Content-Length: \r\n\r\n") + 20
	s.out = jsonrpc2.AppendMessage(append(s.out[:0], make([]byte, room)...), m)
	header := fmt.Sprintf("Content-Length: %d\r\n\r\n", len(s.out)-room)
	start := room - len(header)
	copy(s.out[start:], header)
	n, err := s.conn.Write(s.out[start:])
	if cap(s.out) > keptBuffer {
		s.out = nil
	}
	return int64(n), err
}

// Close closes the connection.
func (s *Stream) Close() error { return s.conn.Close() }
