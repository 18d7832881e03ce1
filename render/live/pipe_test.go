//go:build unix

package live_test

import (
	"context"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"neckloft/render/live"
)

func TestPipeIsRefusedAndNotWaitedFor(t *testing.T) {
	s := serve(t, nil)
	pipe := filepath.Join(s.dir, "pipe.toml")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	for _, request := range []string{"open", "watch", "save"} {
		ctx, stop := context.WithTimeout(context.Background(), 10*time.Second)
		w := s.do(s.request(request, map[string]string{"name": "pipe.toml", "text": "x"}).WithContext(ctx))
		stop()
		require.Equal(t, 422, w.Code, request)
		require.Contains(t, w.Body.String(), "not a plain file")
	}
	_, err := live.New(live.Options{File: pipe})
	require.ErrorContains(t, err, "not a plain file")
}
