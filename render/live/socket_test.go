package live_test

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/coder/websocket"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
	"neckloft/render/live"
)

// socketed is a server that really listens, for a socket needs a connection.
type socketed struct {
	t     *testing.T
	ctx   context.Context
	url   string
	token string
}

func openSocketed(t *testing.T) *socketed {
	t.Helper()
	s, err := live.New(live.Options{Text: spec.Starter(), Folder: t.TempDir()})
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	l, err := live.Listen(0)
	require.NoError(t, err)
	h := httptest.NewUnstartedServer(s.Handler(l.Addr().String()))
	h.Listener.Close()
	h.Listener = l
	h.Start()
	t.Cleanup(h.Close)
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	t.Cleanup(cancel)
	_, token, _ := strings.Cut(s.URL(l), "#")
	return &socketed{t, ctx, "http://" + l.Addr().String(), token}
}

// dial opens a socket as the page does, after a change of how.
func (s *socketed) dial(change func(*websocket.DialOptions)) (*websocket.Conn, *http.Response, error) {
	o := &websocket.DialOptions{
		Subprotocols: []string{"neckloft", s.token},
		HTTPHeader:   http.Header{"Origin": {s.url}, "Sec-Fetch-Site": {"same-origin"}},
	}
	change(o)
	return websocket.Dial(s.ctx, s.url+"/api/socket", o)
}

// answer reads the next message of the server.
func (s *socketed) answer(c *websocket.Conn) (id, status uint32, data []byte) {
	s.t.Helper()
	_, message, err := c.Read(s.ctx)
	require.NoError(s.t, err)
	require.GreaterOrEqual(s.t, len(message), 8)
	foot := message[len(message)-8:]
	return binary.LittleEndian.Uint32(foot), binary.LittleEndian.Uint32(foot[4:]), message[:len(message)-8]
}

func TestSocketIsOfThePageOnly(t *testing.T) {
	s := openSocketed(t)
	for _, c := range []struct {
		name   string
		change func(*websocket.DialOptions)
		status int
	}{
		{"as the page asks", func(*websocket.DialOptions) {}, 101},
		{"another key", func(o *websocket.DialOptions) { o.Subprotocols[1] = strings.Repeat("0", 48) }, 403},
		{"no key", func(o *websocket.DialOptions) { o.Subprotocols = o.Subprotocols[:1] }, 403},
		{"two keys", func(o *websocket.DialOptions) { o.Subprotocols = append(o.Subprotocols, "other") }, 403},
		{"another site", func(o *websocket.DialOptions) { o.HTTPHeader.Set("Origin", "http://neck.example") }, 403},
		{"no site", func(o *websocket.DialOptions) { o.HTTPHeader.Del("Origin") }, 403},
		{"across sites", func(o *websocket.DialOptions) { o.HTTPHeader.Set("Sec-Fetch-Site", "cross-site") }, 403},
		{"another name of this machine", func(o *websocket.DialOptions) { o.Host = "neck.example" }, 421},
	} {
		conn, r, err := s.dial(c.change)
		require.NotNil(t, r, c.name)
		require.Equal(t, c.status, r.StatusCode, c.name)
		require.Equal(t, c.status == 101, err == nil, c.name)
		if err == nil {
			require.Equal(t, "neckloft", conn.Subprotocol())
			conn.CloseNow()
		}
	}
}

// TestSocketAnswersAsRequestsAreAnswered holds the answers of the socket against
// those of the engine, byte for byte, refusals among them.
func TestSocketAnswersAsRequestsAreAnswered(t *testing.T) {
	s := openSocketed(t)
	c, _, err := s.dial(func(*websocket.DialOptions) {})
	require.NoError(t, err)
	defer c.CloseNow()
	c.SetReadLimit(1 << 26)
	e := live.NewEngine(live.Options{})
	body := func(v map[string]any) []byte {
		data, err := json.Marshal(v)
		require.NoError(t, err)
		return data
	}
	text := spec.Starter()
	asked := []struct {
		name string
		body []byte
	}{
		{"model", body(map[string]any{"text": text, "x": 40, "edits": []any{map[string]any{"op": "set", "path": "width.nut", "value": 43}}})},
		{"model", body(map[string]any{"text": text, "x": 40, "edits": []any{map[string]any{"op": "set", "path": "nothing", "value": 43}}})},
		{"section", body(map[string]any{"text": text, "x": 100})},
		{"probe", body(map[string]any{"text": text, "x": 100, "y": 3})},
		{"section", []byte("{")},
		{"start", body(nil)},
	}
	want := map[uint32]live.Reply{}
	for i, q := range asked {
		id := uint32(i + 7)
		want[id] = e.Answer(s.ctx, q.name, q.body)
		require.NoError(t, c.Write(s.ctx, websocket.MessageText, fmt.Appendf(nil, "%d %s\n%s", id, q.name, q.body)))
	}
	for range asked {
		id, status, data := s.answer(c)
		require.Equal(t, want[id].Status, int(status), id)
		require.True(t, string(want[id].Data) == string(data), "answer %d", id)
		delete(want, id)
	}
	require.Empty(t, want)
}

// TestSocketCallsOff: a question that was called off is not computed to its end,
// and more questions than one page has are refused.
func TestSocketCallsOff(t *testing.T) {
	s := openSocketed(t)
	c, _, err := s.dial(func(*websocket.DialOptions) {})
	require.NoError(t, err)
	defer c.CloseNow()
	c.SetReadLimit(1 << 26)
	write := func(text string) { require.NoError(t, c.Write(s.ctx, websocket.MessageText, []byte(text))) }
	fine, err := json.Marshal(map[string]any{"text": spec.Starter(), "x": 40, "fine": true})
	require.NoError(t, err)
	const count = 40
	for i := range count {
		write(fmt.Sprintf("%d model\n%s", i+1, fine))
	}
	for i := range count {
		write(fmt.Sprintf("%d end\n", i+1))
	}
	busy, off := 0, 0
	for range count {
		_, status, data := s.answer(c)
		switch {
		case status == 503 && strings.Contains(string(data), "busy"):
			busy++
		case status == 503 && strings.Contains(string(data), "called off"):
			off++
		default:
			require.EqualValues(t, 200, status)
		}
	}
	require.Positive(t, busy)
	require.Positive(t, off)

	write("not of the page")
	_, _, err = c.Read(s.ctx)
	require.Error(t, err, "whoever speaks otherwise is not the page")
}
