using Spectre.Console;

namespace Acquire.Rendering;

/// <summary>Text as it is: not wrapped to a width, not read as markup.</summary>
internal static class PlainText
{
    public static void Line(this IAnsiConsole console, string text) => console.Profile.Out.Writer.WriteLine(text);
}
