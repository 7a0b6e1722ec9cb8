/* What the classic scripts see of each other, and of Node where one is loaded there, for the compiler that checks them. */
interface Window { [name: `almanac${string}`]: any }
interface EventTarget { [name: string]: any }
declare var module: any;
declare function require(name: string): any;
