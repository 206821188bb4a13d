using System.Text.Json;

namespace Acquire.Tests.Support;

/// <summary>Every number in a piece of JSON, however deep.</summary>
internal static class JsonNumbers
{
    public static IEnumerable<double> Of(JsonElement json) => json.ValueKind switch
    {
        JsonValueKind.Number => [json.GetDouble()],
        JsonValueKind.Array => json.EnumerateArray().SelectMany(Of),
        JsonValueKind.Object => json.EnumerateObject().SelectMany(p => Of(p.Value)),
        _ => [],
    };
}
