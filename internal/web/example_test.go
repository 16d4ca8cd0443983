package web_test

import (
	"fmt"
	"net"
	"net/http/httptest"

	"simview/internal/casefile"
	"simview/internal/web"
)

// A question under another name than this computer's own is refused: someone may have
// pointed that name at 127.0.0.1.
func Example() {
	c, err := casefile.Demo()
	if err != nil {
		fmt.Println(err)
		return
	}
	page, err := web.New(c, web.Options{Addr: &net.TCPAddr{Port: 4711}, Token: "secret"})
	if err != nil {
		fmt.Println(err)
		return
	}
	r := httptest.NewRequest("GET", "http://clinic.example/api/case", nil)
	w := httptest.NewRecorder()
	page.Handler().ServeHTTP(w, r)
	fmt.Print(w.Code, " ", w.Body)
	// Output:
	// 421 {"key":"host","error":"this page answers only under 127.0.0.1 and its own port; hint: use the address that simview serve printed"}
}

// The address that is printed holds the key of one run.
func ExampleServer_URL() {
	c, err := casefile.Demo()
	if err != nil {
		fmt.Println(err)
		return
	}
	page, err := web.New(c, web.Options{Addr: &net.TCPAddr{Port: 4711}, Token: "secret"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(page.URL())
	// Output:
	// http://127.0.0.1:4711/?key=secret
}
