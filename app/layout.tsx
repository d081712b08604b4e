import type { Metadata, Viewport } from 'next'
import localFont from 'next/font/local'
import { connection } from 'next/server'
import { getTranslations } from 'next-intl/server'
import type { ReactNode } from 'react'
import { getViewer } from '@/lib/auth/viewer'
import { Messages } from './_components/messages'
import './globals.css'

// The Latin file with both axes: the look sets widths from 84 to 100 %.
const archivo = localFont({
  src: '../node_modules/@fontsource-variable/archivo/files/archivo-latin-wdth-normal.woff2',
  weight: '100 900',
  declarations: [{ prop: 'font-stretch', value: '62% 125%' }],
  variable: '--font-archivo',
  display: 'swap',
})

const atkinsonMono = localFont({
  src: '../node_modules/@fontsource-variable/atkinson-hyperlegible-mono/files/atkinson-hyperlegible-mono-latin-wght-normal.woff2',
  weight: '200 800',
  variable: '--font-atkinson-mono',
  display: 'swap',
  preload: false,
})

export async function generateMetadata(): Promise<Metadata> {
  const t = await getTranslations('app')
  return {
    title: { default: t('name'), template: `%s. ${t('name')}` },
    robots: { index: false, follow: false },
  }
}

export const viewport: Viewport = {
  width: 'device-width',
  initialScale: 1,
  viewportFit: 'cover',
  themeColor: [
    { media: '(prefers-color-scheme: light)', color: '#FBFBF8' },
    { media: '(prefers-color-scheme: dark)', color: '#0F1416' },
  ],
}

export default async function RootLayout({ children }: Readonly<{ children: ReactNode }>) {
  // Prerendered pages would carry no nonce, and then no script of theirs may start.
  await connection()
  // Read once a request and shared with the page. Where it can't be read, the page itself says so.
  const theme = await getViewer().then(
    (viewer) => viewer?.theme ?? 'device',
    () => 'device' as const,
  )
  return (
    <html
      lang="en"
      className={`${archivo.variable} ${atkinsonMono.variable}`}
      data-theme={theme === 'device' ? undefined : theme}
    >
      <body>
        <Messages>{children}</Messages>
      </body>
    </html>
  )
}
