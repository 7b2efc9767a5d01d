package sheet

import "tarry/page"

func (s *setter) chartBlankPages() []*page.Page { return nil }

func (s *setter) chartPartPages() []*page.Page { return nil }

func (s *setter) chartFilledPages() []*page.Page { return nil }
