namespace Acquire.Instruments.Profiles;

public sealed partial record LineTemplate
{
    /// <summary>The places a template may name, for messages.</summary>
    internal const string KnownPlaces = "{red}, {green}, {blue}, {visual}, {value}, {word}, {number} or {skip}";

    /// <summary>Reads a template.</summary>
    /// <remarks>
    /// Blanks stand for any run of blanks, except directly before a place with a width: there they count exactly, because the place's
    /// own blanks could not be told from them.
    /// </remarks>
    /// <exception cref="TemplateException">A place is unknown or the template could be read in two ways.</exception>
    public static LineTemplate Parse(string text)
    {
        var parts = TemplateScanner.Scan(text);
        TemplateRules.Check(text, parts);
        return new LineTemplate(text, [.. parts.Select(p => p.Part)]);
    }
}
