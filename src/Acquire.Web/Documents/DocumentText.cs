using System.Text.Json.Serialization;
using System.Text.Json;
using Acquire.Formats.Json;

namespace Acquire.Web.Documents;

/// <summary>How answers to other programs are spelled: camel case, nulls written, numbers unrounded.</summary>
internal static class DocumentText
{
    /// <summary>On one line, for the network.</summary>
    public static JsonSerializerOptions Compact { get; } = new(JsonText.Options) { DefaultIgnoreCondition = JsonIgnoreCondition.Never };

    /// <summary>As the command line prints it; the same properties.</summary>
    public static JsonSerializerOptions Indented { get; } = new(JsonText.Edited) { DefaultIgnoreCondition = JsonIgnoreCondition.Never };
}
