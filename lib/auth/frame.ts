import 'server-only'
import { cache } from 'react'
import type { Viewer } from '@/lib/access/viewer'
import { type CompanyFrame, getCompany } from '@/lib/data/company'

/** What stands around a screen, read once a request: the layout and its page both ask for it. */
export const frameFor: (viewer: Viewer) => Promise<CompanyFrame> = cache(getCompany)
