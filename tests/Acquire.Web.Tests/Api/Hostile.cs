using System.Text;
using System.Text.Json.Nodes;

namespace Acquire.Web.Tests.Api;

/// <summary>What no honest client sends.</summary>
internal static class Hostile
{
    /// <summary>Values of JSON as text, so that such as no writer makes are among them.</summary>
    public static readonly string[] Values =
    [
        "null", "true", "-1", "0", "1e308", "1e400", "-0.0000000001", "99999999999999999999999999999999", "2147483648", "\"\"", "\" \"",
        "\"\\u0000\"", "\"a\\u0000b\"", "\"\\ud800\"", "\"٣:١٥\"", "\"１２\"", "\"../../etc/passwd\"", "\"a\\nb\"", "\"-99999d\"",
        "\"9999-12-31\"", "\"0001-01-01\"", "\"99999999999999999999L\"", "\"1e308L\"", "\"999999999x135-36\"", "\"NaN\"", "\"∞\"",
        "\"'; DROP TABLE strip; --\"", "\"<script>alert(1)</script>\"", "\"\\u202e\"", $"\"{new string('x', 100_000)}\"", "[]", "{}",
        "[[[[]]]]", "[null]", "[1]", "[\"\"]", "[{}]", "{\"a\":{}}", Nested(10_000),
    ];

    public static readonly string[] QueryValues =
    [
        "", "abc", "-1", "0", "99999999999999999999", "NaN", "Infinity", "1e400", "%D9%A3", "2026-13-45", "0001-01-01", "9999-12-31", "%00",
        "%27%3B--", "..%2F..%2Fetc%2Fpasswd", "%ED%A0%80", "true", new string('x', 5_000),
    ];

    public static readonly string[] PathValues =
    [
        "..", "%2e%2e", "%2e%2e%2f%2e%2e%2fetc%2fpasswd", "..%5c..%5cwindows", "0", "ffffffff-ffff-ffff-ffff-ffffffffffff", "%D9%A3%D9%A4",
        "%25", "%27%20OR%201%3D1", "%F0%9F%8E%9E", "a%0Ab", "~", new string('f', 2_000),
    ];

    /// <summary>Whole bodies.</summary>
    public static IEnumerable<byte[]> Bodies =>
    [
        [], "null"u8.ToArray(), "[]"u8.ToArray(), "{"u8.ToArray(), "\"x\""u8.ToArray(), "{}"u8.ToArray(), "{\"a\":1,\"a\":2}"u8.ToArray(),
        [0xEF, 0xBB, 0xBF, .. "{}"u8], [0xFF, 0xFE, .. Encoding.Unicode.GetBytes("{}")], [0xC3, 0x28, 0x00, 0xFF],
        Encoding.UTF8.GetBytes(
            Nested(10_000)), Encoding.UTF8.GetBytes(NestedObjects(10_000)), Encoding.UTF8.GetBytes(new string('[', 10_000)),
        Encoding.UTF8.GetBytes($"{{\"x\":\"{new string('y', 2 * 1024 * 1024)}\"}}"),
    ];

    /// <summary>A body with one of its values, however deep, replaced by a hostile one, left out or doubled; so many of them.</summary>
    public static IEnumerable<string> Mutations(JsonObject body, Random chance, int count)
    {
        var places = Places(body).ToList();
        for (var i = 0; i < count; i++)
        {
            var made = body.DeepClone().AsObject();
            var (holder, name) = Places(made).ElementAt(chance.Next(places.Count));
            switch (chance.Next(10))
            {
                case 0:
                    holder.Remove(name);
                    yield return made.ToJsonString();
                    break;
                case 1:
                    holder[name + "\u200b"] = 1;
                    yield return made.ToJsonString();
                    break;
                default:
                    var mark = $"\"{Guid.NewGuid():N}\"";
                    holder[name] = mark.Trim('"');
                    yield return made.ToJsonString().Replace(mark, Values[chance.Next(Values.Length)], StringComparison.Ordinal);
                    break;
            }
        }
    }

    private static IEnumerable<(JsonObject Holder, string Name)> Places(JsonNode? node) => node switch
    {
        JsonObject o => o.Select(p => (o, p.Key)).Concat(o.SelectMany(p => Places(p.Value))),
        JsonArray a => a.SelectMany(Places),
        _ => [],
    };

    private static string Nested(int levels) => new string('[', levels) + new string(']', levels);

    private static string NestedObjects(int levels) =>
        string.Concat(Enumerable.Repeat("{\"a\":", levels)) + "1" + new string('}', levels);
}
