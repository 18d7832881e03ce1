//go:build !js

package live

import (
	"bytes"
	"context"
	"crypto/subtle"
	"encoding/binary"
	"net/http"
	"strings"
	"sync"

	"github.com/coder/websocket"
)

// A socket carries what the page asks at every move, since a browser takes several
// milliseconds for a request of HTTP, and one for a message. The requests are those
// of the engine, and the answers the same.
//
// A message of the page is "ID NAME\nBODY": a number of the page's own, the request,
// and what else would be its body. "ID end\n" calls it off. A message of the server
// is binary: the reply's data, so that it stands where a request's would, and behind
// it ID and status as uint32, little-endian.

// socketWord is the protocol that the page asks for. The key comes with it as
// another: a page can set no other header of this request.
const socketWord = "neckloft"

// mostWaiting is how many questions of one socket may wait for their answers.
const mostWaiting = 16

// socketEnd calls a question off.
const socketEnd = "end"

// serveSocket answers the questions of one socket until it ends.
func (s *Server) serveSocket(w http.ResponseWriter, r *http.Request) {
	given := ""
	for word := range strings.SplitSeq(r.Header.Get("Sec-WebSocket-Protocol"), ",") {
		if word = strings.TrimSpace(word); word != socketWord {
			given = word
		}
	}
	switch {
	case subtle.ConstantTimeCompare([]byte(given), []byte(s.token)) != 1:
		refuse(w, http.StatusForbidden, "the address lacks the key of this run; open the one that neckloft live has printed")
		return
	case r.Header.Get("Origin") == "":
		refuse(w, http.StatusForbidden, "only a page is answered here")
		return
	}
	conn, err := websocket.Accept(w, r, &websocket.AcceptOptions{Subprotocols: []string{socketWord}})
	if err != nil {
		return // which has been said
	}
	defer conn.CloseNow()
	conn.SetReadLimit(maxBody)
	ctx, cancel := context.WithCancel(r.Context())
	defer cancel()
	all := &questions{requests: s.requests(), under: map[uint32]context.CancelFunc{}}
	for {
		_, message, err := conn.Read(ctx)
		if err != nil {
			return
		}
		id, name, body, ok := question(message)
		if !ok {
			return // this is not our page
		}
		all.take(ctx, id, name, body, func(r Reply) {
			conn.Write(ctx, websocket.MessageBinary, answerTo(id, r))
		})
	}
}

// question reads a message of the page.
func question(message []byte) (id uint32, name string, body []byte, ok bool) {
	head, body, ok := bytes.Cut(message, []byte("\n"))
	if !ok || len(head) > 40 {
		return 0, "", nil, false
	}
	number, name, ok := strings.Cut(string(head), " ")
	for _, c := range number {
		if c < '0' || c > '9' {
			return 0, "", nil, false
		}
		id = 10*id + uint32(c-'0')
	}
	return id, name, body, ok && number != ""
}

// answerTo returns the message of a reply.
func answerTo(id uint32, r Reply) []byte {
	out := binary.LittleEndian.AppendUint32(r.Data, id)
	return binary.LittleEndian.AppendUint32(out, uint32(r.Status))
}

// questions are those of one socket that are under way.
type questions struct {
	requests map[string]request

	mu    sync.Mutex
	under map[uint32]context.CancelFunc
}

// take answers a question, beside those that are under way.
func (q *questions) take(ctx context.Context, id uint32, name string, body []byte, answer func(Reply)) {
	if name == socketEnd {
		q.end(id)
		return
	}
	ask, ok := q.requests[name]
	if !ok {
		answer(fail(statusNotFound, "there is no such request"))
		return
	}
	ctx, end := context.WithCancel(ctx)
	if !q.begin(id, end) {
		end()
		answer(fail(statusUnavailable, errBusy.Error()))
		return
	}
	go func() {
		r := ask(ctx, bytes.NewReader(body))
		q.end(id)
		answer(r)
	}()
}

// begin notes how a question is called off, where there is room for it.
func (q *questions) begin(id uint32, end context.CancelFunc) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	if len(q.under) >= mostWaiting || q.under[id] != nil {
		return false
	}
	q.under[id] = end
	return true
}

// end calls a question off, if it is under way.
func (q *questions) end(id uint32) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if end := q.under[id]; end != nil {
		delete(q.under, id)
		end()
	}
}
