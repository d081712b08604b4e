import { getRequestConfig } from 'next-intl/server'
import { log } from '@/lib/log'
import messages from '@/messages/en.json'

// One language, no locale in the address. Times are shown in the site's zone, which every caller
// names; UTC only keeps server and browser alike where one forgets.
export default getRequestConfig(() => ({
  locale: 'en',
  messages,
  timeZone: 'UTC',
  onError: (error) =>
    log.error(
      { code: error.code, key: error.originalMessage ?? error.message },
      'messages.missing',
    ),
}))
