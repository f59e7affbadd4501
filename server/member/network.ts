import { isIPv6 } from 'node:net'

const PRIVATE = /^(10\.|127\.|192\.168\.|169\.254\.|172\.(1[6-9]|2\d|3[01])\.)/

/**
 * The network that an address belongs to, as far as one party usually holds it: /56 of IPv6, /24 of public IPv4; in a
 * local network every machine for itself.
 */
export function networkOf(address: string): string {
  const plain = address.replace(/^::ffff:(?=\d+\.)/i, '')
  if (!isIPv6(plain)) return PRIVATE.test(plain) ? plain : plain.replace(/\.\d+$/, '.0/24')
  const [head = '', tail] = plain.split('%')[0]!.split('::')
  const start = head === '' ? [] : head.split(':')
  const end = tail ? tail.split(':') : []
  const blank = tail === undefined ? [] : new Array<string>(Math.max(0, 8 - start.length - end.length)).fill('0')
  const groups = [...start, ...blank, ...end].map((group) => parseInt(group, 16))
  const [a = 0, b = 0, c = 0, d = 0] = groups
  return `${[a, b, c, d & 0xff00].map((group) => group.toString(16)).join(':')}::/56`
}
