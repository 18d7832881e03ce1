package live

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"neckloft/export/bench"
	"neckloft/neck"
	"neckloft/neck/spec"
)

func TestLimiterGivesUpAndGoesOn(t *testing.T) {
	l := newLimiter(1)
	hold := make(chan struct{})
	ended := make(chan struct{})
	_, err := do(context.Background(), l, 20*time.Millisecond, func(context.Context) (int, error) {
		<-hold
		close(ended)
		return 1, nil
	})
	require.ErrorIs(t, err, errSlow)

	// What was given up still runs, and so keeps its place.
	_, err = do(context.Background(), l, 20*time.Millisecond, func(context.Context) (int, error) { return 2, nil })
	require.ErrorIs(t, err, errBusy)
	close(hold)
	<-ended
	v, err := do(context.Background(), l, time.Minute, func(context.Context) (int, error) { return 3, nil })
	require.NoError(t, err)
	require.Equal(t, 3, v)

	_, err = do(context.Background(), l, time.Minute, func(context.Context) (int, error) { panic("on purpose") })
	require.ErrorContains(t, err, "defect of the program")
	_, err = do(context.Background(), l, time.Minute, func(context.Context) (int, error) { return 0, errors.New("plain") })
	require.EqualError(t, err, "plain")

	gone, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = do(gone, l, time.Minute, func(ctx context.Context) (int, error) { <-ctx.Done(); return 0, ctx.Err() })
	require.ErrorIs(t, err, context.Canceled)
}

// TestSlowRequestIsCutOff asks over a real connection for something that takes
// too long, and for other things meanwhile and afterwards.
func TestSlowRequestIsCutOff(t *testing.T) {
	hold := make(chan struct{})
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	set := bench.New(n, nil)
	set.Products = []bench.Product{
		{File: "slow", Write: func(io.Writer) error { <-hold; return nil }},
		{File: "quick", Write: func(w io.Writer) error { _, err := io.WriteString(w, "made"); return err }},
	}
	s, err := New(Options{Text: spec.Starter(), Folder: t.TempDir(), Bench: func(*neck.Neck, spec.Problems) *bench.Set { return set }})
	require.NoError(t, err)
	defer s.Close()
	s.mostMaking = 250 * time.Millisecond
	l, err := Listen(0)
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	served := make(chan error, 1)
	go func() { served <- s.Serve(ctx, l) }()

	ask := func(path string, body any) (int, string) {
		data, err := json.Marshal(body)
		require.NoError(t, err)
		r, err := http.NewRequest(http.MethodPost, "http://"+l.Addr().String()+"/api/"+path, strings.NewReader(string(data)))
		require.NoError(t, err)
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set(tokenHeader, s.token)
		a, err := http.DefaultClient.Do(r)
		require.NoError(t, err)
		defer a.Body.Close()
		out, err := io.ReadAll(a.Body)
		require.NoError(t, err)
		return a.StatusCode, string(out)
	}
	status, said := ask("make", map[string]string{"name": "slow", "text": spec.Starter()})
	require.Equal(t, http.StatusServiceUnavailable, status)
	require.Contains(t, said, "takes too long")
	status, said = ask("make", map[string]string{"name": "quick", "text": spec.Starter()})
	require.Equal(t, http.StatusServiceUnavailable, status)
	require.Contains(t, said, "busy")
	status, _ = ask("model", map[string]string{"text": spec.Starter()})
	require.Equal(t, http.StatusOK, status, "the picture does not wait for it")
	close(hold)
	require.Eventually(t, func() bool {
		status, said = ask("make", map[string]string{"name": "quick", "text": spec.Starter()})
		return status == http.StatusOK && said == "made"
	}, 5*time.Second, 10*time.Millisecond)

	stop()
	require.NoError(t, <-served)
}

// TestHeavySpecsAreBounded asks for the largest neck that a spec can describe,
// coarse and fine, and for one whose thin cover asks for a fine mesh.
func TestHeavySpecsAreBounded(t *testing.T) {
	s, err := New(Options{Text: spec.Starter(), Folder: t.TempDir()})
	require.NoError(t, err)
	defer s.Close()
	h := s.Handler("127.0.0.1:1")
	for name, text := range map[string]string{
		"long": "[scale]\nlength = 3000\nfrets = 60\n[width]\nnut = 300\nend = 300\n[board]\nthickness = 6\n[[depth]]\nfret = 1\ntotal = 150\n[[profile]]\nfret = 1\nbass = 1.05\ntreble = 40\n",
		"thin": strings.Replace(spec.Starter(), "depth = 9.3", "depth = 14.5", 1),
		"many": spec.Starter() + strings.Repeat("\n[[strings.set]]\ntension = 70\n", 3000),
	} {
		for _, fine := range []bool{false, true} {
			body, err := json.Marshal(map[string]any{"text": text, "fine": fine})
			require.NoError(t, err)
			r := httptest.NewRequest(http.MethodPost, "http://127.0.0.1:1/api/model", strings.NewReader(string(body)))
			r.Header.Set("Content-Type", "application/json")
			r.Header.Set(tokenHeader, s.token)
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			require.Contains(t, []int{200, 422, 503}, w.Code, name)
			t.Logf("%s, fine %v: %d, %d bytes", name, fine, w.Code, w.Body.Len())
		}
	}
}
