'use client'

import Link from 'next/link'
import { usePathname } from 'next/navigation'
import { isTopScreen } from './destinations'

type SectionLinksProps = Readonly<{
  label: string
  pages: readonly Readonly<{ path: string; href: string; words: string }>[]
}>

/** On a phone only the section's first page has them: a deeper one has its way back. */
export function SectionLinks({ label, pages }: SectionLinksProps) {
  const pathname = usePathname()
  return (
    <nav
      aria-label={label}
      className={`border-b border-rule px-4 desk:mb-3 desk:block desk:border-b-0 desk:px-8 ${isTopScreen(pathname) ? '' : 'hidden'}`}
    >
      <ul className="flex gap-5 overflow-x-auto">
        {pages.map((page) => (
          <li key={page.path}>
            <Link
              href={page.href}
              aria-current={page.path === pathname ? 'page' : undefined}
              className="block min-h-12 content-center border-b-4 border-transparent whitespace-nowrap text-ink aria-[current]:border-cobalt aria-[current]:font-[650] desk:min-h-8"
            >
              {page.words}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  )
}
