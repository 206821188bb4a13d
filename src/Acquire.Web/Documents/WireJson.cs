using System.Text.Json;
using System.Text.Json.Serialization;

namespace Acquire.Web.Documents;

/// <summary>
/// How documents are spelled between the service and its own command line; the service's answers are spelled so to everybody.
/// </summary>
internal static class WireJson
{
    public static JsonSerializerOptions Options { get; } = new(DocumentText.Compact)
    {
        PropertyNameCaseInsensitive = true,
        NumberHandling = JsonNumberHandling.Strict,
        Converters = { new DensitiesConverter() },
    };
}
