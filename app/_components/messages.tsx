'use client'

import { NextIntlClientProvider } from 'next-intl'
import type { ReactNode } from 'react'
import messages from '@/messages/en.json'

/**
 * The words of the app for what runs in the browser. Imported here they are a file that is fetched once and kept;
 * handed over by the server they would travel in every page, and be most of it.
 */
export function Messages({ children }: Readonly<{ children: ReactNode }>) {
  return (
    <NextIntlClientProvider locale="en" messages={messages} timeZone="UTC">
      {children}
    </NextIntlClientProvider>
  )
}
