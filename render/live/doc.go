// Package live serves the page on which a neck is shaped by hand: one page for
// one builder, on the loopback interface only.
//
// The page draws; everything it draws is computed here. It keeps the spec's
// text and sends it along with every request (/api/model with edits,
// /api/section, /api/make), or through a socket (/api/socket), so that the server holds no state of a page and
// nothing can get out of step. An edit is a change of that text.
//
// # Server
//
// An answer with meshes is binary (frame.go: JSON, then positions, normals and
// indices as typed arrays). The controls (control.go) and their limits are those of
// the spec's keys, and tests hold the one to the other. Package tomledit changes
// values in the text of a TOML file and leaves the rest as it is, at a cost in
// proportion to the text, with caps on depth and number of values. handler.go
// holds the guard (Host, Origin, Sec-Fetch-Site, token, Content-Security-
// Policy). folder.go is the one folder that can be read and written, through
// os.Root and without waiting for pipes. limit.go says how many computations
// run and for how long; one whose page has gone stops at its next step.
//
// The browser is opened on a file that only its owner can read (0600 in a folder
// of its own, removed at the end) and that leads to the page: what a program is
// started with, the token included, everybody on the machine could see. A
// browser that may not read temporary files shows nothing; the address is on
// the terminal.
//
// # Without a server
//
// Engine (engine.go) answers what needs no folder. Built for a browser (cmd/engine,
// WebAssembly) it lies in the page that standalone.go writes, as one file, and
// runs in two workers (web/src/alone.js): one for moves, one for what takes
// longer. page/memory.js gives it files in memory, since a library writes fonts
// to a temporary folder. Specs are kept in the browser (Shelf).
//
// # Page
//
// In web/src/main.js the box with the text, the controls, the file and save have
// one order. Whatever reads or changes the text calls takeText first, for what
// is typed and not taken. Save, open, undo and download wait until no edit is
// under way (settled). Edits are changes to the text and not texts, so those
// under way when another text takes its place are made to that one. An answer
// that judges an edit (422, 500) drops it; where nobody has judged it (no
// answer, 503) it waits and is asked again. The page asks once a second what the
// file holds: a question left open would take one of the six connections that a
// browser has for all of its tabs.
//
// No control acts on a text that was not read. The program refuses edits of such
// a text and those that would lead to one. The page locks its controls (inert)
// while it has one, and holds what is pressed between another text's coming and
// its being read (reading): it is done only where both texts have the same
// value. A field that is typed into is taken when the hand rests
// (Controls.delay); half a number waits until the field is left. History knows
// which texts are older than what something else has written into the file: a
// save of one of them asks, and where that file cannot be read the step back to
// them has a button of its own. thumb.js keeps a slider still under a thumb that scrolls.
// The key is kept in the tab's session storage (api.js), the colours in a
// cookie, since the port differs from run to run.
//
// # Bench
//
// bench.js says which picture is large and which part of the neck it shows. Where
// the handles are and how they move is told by handle.go: it changes a key a
// little, lays the neck out anew (neck.Draft) and looks where the handle has gone,
// so that it is the inverse of what is drawn by its very making and the program
// and the engine in a page agree. handles.js turns that into px. While a handle is
// held the scale of its picture stays. After each answer it goes on with how the
// handle moves there, since a shoulder does not move in a straight line.
//
// jigoptions.js has a field for each option of bench.AllJigOptions, the table that the
// flags of jigs are made of too.
//
// View3D.look stands as near as lets all of the neck be seen clear of the buttons
// over the picture: a bound for every corner, in closed form. fold.js folds warnings
// and hint where the window is very small.
//
// compare.js lays another neck over this one. The program turns that to the same hand,
// says which section stands for the one that is shown (compared.go), and by how much
// all numbers differ, since only it has them before they are printed; flush.js says how
// far the other is moved across and up. lean.go gives the lights with stripes the
// exact normals: those of a mesh, and in bytes, would show breaks that the wood does
// not have.
//
// The script and its source are both committed. After a change in web/src:
//
//	npm ci --prefix render/live/web
//	npm run build --prefix render/live/web
//
// # Outside checks
//
// TestBundleMatchesSource builds the script anew and compares the bytes. The
// tests of cmd/neckloft drive the page in Chromium, with slow and refused
// answers too. Both skip with a message where node_modules or chromium is
// missing; .ci/run installs them.
//
//	NECKLOFT_SHOTS=folder go test ./cmd/neckloft -run TestLive
//
// leaves pictures of the page in all sizes, dark and light, and on paper, to
// look at.
//
// # Benchmarks
//
// While a control moves the page asks for the mesh at 0.1 mm, one question at a
// time, and merges the moves that come meanwhile; 120 ms after the last it asks
// for 0.02 mm, the table, the weight and the stiffness. What makes a move quick:
//
//   - one socket in place of requests (socket.go, web/src/socket.js): a browser
//     takes 4 to 5 ms for a request with an answer of 125 kB, and 1 ms for a
//     message; and much less where other work is beside it;
//   - answers that say what has changed of the text (change.go) and have indices of
//     two bytes: 60 kB less of 115;
//   - what has come meanwhile is asked for before an answer is drawn, so that the
//     program reckons while the page draws;
//   - all pictures of a move in one frame of the browser, the one in space first, since
//     it is drawn beside the page's own work; the footer's figure comes with the next;
//   - the page is laid out once, when it is drawn: nothing is asked of the layout
//     between changes, no element is touched that has not changed, the box with
//     the text follows at rest, and pictures and groups of controls are contained in
//     the style sheet, so that a move paints none of the others;
//   - lights reckoned at vertices, buffers kept and filled anew, and where there is no
//     graphics card half as many points while something moves;
//   - loft, board, drawings, handles, covers and JSON on all processors, the least cover
//     once per neck, and an outline of the headstock kept as long as it is the same.
//
// BenchmarkLiveEveryControl moves every control, a move every 40 ms, each to a value
// that has not been there, takes it back, and names the slowest, in Chromium,
// headless and drawing in software. A frame begins when the browser turns to the
// picture, and is seen when the page has put it together, which is what the footer
// tells. BenchmarkPageEveryControl does the same to the page with
// no program behind it, whose engine has one core for moves.
//
//	go test ./cmd/neckloft -run '^$' -bench EveryControl -benchtime 1x
//
// All 120 controls, on two cores of an Intel, quiet and beside five times as much other
// work as there are cores:
//
//	                      quiet: median   95 %    beside other work
//	live, frame begins           19 ms   28 ms        22 ms   76 ms
//	live, seen                   21 ms   31 ms        24 ms   87 ms
//	page, frame begins           24 ms   38 ms
//	page, seen                   26 ms   41 ms
//
// Single moves take up to 60 ms, of controls that change no shape too. What a move
// costs does not hang on other work, in ms of processor time on that Intel: 6 in the
// program and 34 in the browser, 16 of these in the page's own thread and 8 for drawing
// in software.
//
// Of a move with little other work, in ms: 5 in the program (-bench Model), 3 on the
// way there and back and beside the page's own frame, 5 to put buffers in place and
// draw in software, up to 17 until the screen's next frame, 2 for that.
//
// In the program alone, of 5 ms: 0.3 editing and reading, 0.6 checks and least
// cover, then side by side 2.5 the wood's mesh with normals, and board, drawings,
// handles and their JSON; 0.1 buffers. With a headstock cut by an outline, slanted
// channels or a board with markers a move takes 10 to 30 ms there, most of it for
// cutting meshes, which are not looked over as those of files are, and for the covers.
//
// The engine in a page takes 15 ms of processor time for a move on that Intel, and 35
// to 43 with a headstock cut by an outline: it is then seen after 82 ms in the median,
// beside as much other work as above.
//
// The page in one file is 7.6 MB, 5.7 MB packed. Its first picture is seen after
// 0.6 s, in a browser that has just been started after 1.1 to 1.8 s; beside five times
// as much other work as there are cores after 2 s.
//
// A graphics card saves the 5 ms of drawing and what the browser needs to put
// the page together; without one the picture is coarse while something moves, and a
// finer still lies over the picture at rest.
package live
