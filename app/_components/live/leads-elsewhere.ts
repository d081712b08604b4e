type Press = Readonly<
  Pick<MouseEvent, 'button' | 'metaKey' | 'ctrlKey' | 'shiftKey' | 'altKey' | 'defaultPrevented'>
>
type Place = Readonly<Pick<Location, 'origin' | 'pathname' | 'search'>>
type Link = Readonly<Pick<HTMLAnchorElement, 'target' | 'origin' | 'pathname' | 'search'>> &
  Readonly<{ hasAttribute: (name: string) => boolean }>

/** Whether pressing a link draws another page of ours in this window: no file, no new tab, no place on this page. */
export function leadsElsewhere(press: Press, link: Link, here: Place): boolean {
  const isPlain =
    press.button === 0 &&
    !press.metaKey &&
    !press.ctrlKey &&
    !press.shiftKey &&
    !press.altKey &&
    !press.defaultPrevented
  const isPage =
    link.hasAttribute('href') &&
    !link.hasAttribute('download') &&
    (link.target === '' || link.target === '_self') &&
    link.origin === here.origin &&
    !link.pathname.startsWith('/api/')
  return isPlain && isPage && (link.pathname !== here.pathname || link.search !== here.search)
}
