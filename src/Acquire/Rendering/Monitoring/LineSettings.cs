using Acquire.Instruments.Links;

namespace Acquire.Rendering.Monitoring;

/// <summary>Line settings in the usual short form, such as <c>9600 8N1</c>.</summary>
internal static class LineSettings
{
    public static string Of(LinkSettings link) => LinkWords.Of(link);
}
