package collada

// sids are the nodes and transforms in a node and below it by their sids. Of
// several with one sid the nearest to the node counts, as if the nodes were
// searched breadth first.
type sids struct {
	nodes map[string]*node
	ops   map[string]opPlace
}

// opPlace is a transform of a node.
type opPlace struct {
	node *node
	op   int
}

// sidWork bounds how many nodes are looked at for sids. Nodes that nest deep
// and are all asked for make it that many times the nodes of the file.
const sidWork = 1 << 22

// below returns the sids in a node and below it.
func (b *builder) below(n *node) *sids {
	if known := b.sids[n]; known != nil {
		return known
	}
	s := &sids{nodes: make(map[string]*node), ops: make(map[string]opPlace)}
	b.sids[n] = s
	for row := []*node{n}; len(row) > 0 && b.sidWork < sidWork; {
		var next []*node
		for _, n := range row {
			b.sidWork++
			s.enter(n)
			for _, c := range n.children {
				if c.node != nil {
					next = append(next, c.node)
				}
			}
		}
		row = next
	}
	return s
}

func (s *sids) enter(n *node) {
	if n.sid != "" && s.nodes[n.sid] == nil {
		s.nodes[n.sid] = n
	}
	for i := range n.ops {
		sid := n.ops[i].sid
		if _, taken := s.ops[sid]; sid != "" && !taken {
			s.ops[sid] = opPlace{n, i}
		}
	}
}
