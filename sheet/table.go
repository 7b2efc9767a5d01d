package sheet

import "tarry/page"

func (s *setter) tableBlankPages() []*page.Page { return nil }

func (s *setter) tableFilledPages() []*page.Page { return nil }
