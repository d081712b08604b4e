'use client'

import type { ReactNode } from 'react'
import { Button } from '@/app/_components/controls/button'

export function PrintButton({
  children,
  kind = 'plain',
}: Readonly<{ children: ReactNode; kind?: 'main' | 'plain' }>) {
  return (
    <Button kind={kind} onClick={() => window.print()}>
      {children}
    </Button>
  )
}
