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

    /// <summary>
    /// Answers as above; what comes in is taken by the letter: a name that is not known or stands twice is a slip, and so is null where
    /// something must be.
    /// </summary>
    public static void ForRequests(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = Compact.PropertyNamingPolicy;
        options.Encoder = Compact.Encoder;
        options.DefaultIgnoreCondition = Compact.DefaultIgnoreCondition;
        options.NumberHandling = JsonNumberHandling.Strict;
        options.PropertyNameCaseInsensitive = false;
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow;
        options.AllowDuplicateProperties = false;
        options.RespectNullableAnnotations = true;
        foreach (var converter in Compact.Converters)
        {
            options.Converters.Add(converter);
        }

        // What a terminal is shown of a reading: without it the service would spell what its own command line cannot read.
        options.Converters.Add(new DensitiesConverter());
    }
}
