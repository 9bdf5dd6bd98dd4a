// Whether HTML written by the pages is well formed: every tag closed in order, every attribute quoted and named once.

const tag = /<(\/?)([a-zA-Z][a-zA-Z0-9]*)((?:\s+[a-zA-Z-]+(?:="[^"<]*")?)*)\s*(\/?)>/y;
const entity = /&(?:amp|lt|gt|quot|#39);/y;

/** What is wrong with the markup; undefined where nothing is. */
export function fault(html: string): string | undefined {
  const open: string[] = [];
  let at = 0;
  while (at < html.length) {
    const character = html.charAt(at);
    if (character === "<") {
      tag.lastIndex = at;
      const found = tag.exec(html);
      if (found === null) return `no tag: ${html.slice(at, at + 60)}`;
      const [whole, closing, name = "", attributes = "", selfClosing] = found;
      const names = [...attributes.matchAll(/\s([a-zA-Z-]+)(?:="[^"]*")?/g)].map(([, one]) => one);
      if (new Set(names).size < names.length) return `an attribute twice: ${whole}`;
      if (closing === "/") {
        const last = open.pop();
        if (last !== name) return `</${name}> closes <${String(last)}>`;
      } else if (selfClosing !== "/") open.push(name);
      at = tag.lastIndex;
    } else if (character === ">") {
      return `a bare >: ${html.slice(Math.max(0, at - 30), at + 30)}`;
    } else if (character === "&") {
      entity.lastIndex = at;
      if (!entity.test(html)) return `no entity: ${html.slice(at, at + 30)}`;
      at = entity.lastIndex;
    } else at++;
  }
  return open.length === 0 ? undefined : `not closed: ${open.join(" ")}`;
}
