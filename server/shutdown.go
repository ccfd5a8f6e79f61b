package server

import "context"

// Shutdown ends the background work. Only exit may follow.
func (s *Server) Shutdown(context.Context) error {
	s.dispatcher.Phase.Stop()
	s.session.Close()
	return nil
}

// Exit ends the session.
func (s *Server) Exit(context.Context) error {
	s.exited.Do(func() { close(s.exit) })
	return nil
}
