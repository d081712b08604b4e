import 'next-auth'
import 'next-auth/jwt'

declare module 'next-auth' {
  interface User {
    id: string
    epoch: number
  }
  interface Session {
    personId: string
    epoch: number
  }
}

declare module 'next-auth/jwt' {
  interface JWT {
    personId: string
    epoch: number
  }
}
