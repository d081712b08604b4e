import type { ReactNode } from 'react'

/** A file of what stands beside it. */
export function FileLink({ href, children }: Readonly<{ href: string; children: ReactNode }>) {
  return (
    <a
      href={href}
      className="inline-block min-h-12 content-center text-ink underline decoration-cobalt underline-offset-4 desk:min-h-6"
      download
    >
      {children}
    </a>
  )
}
