namespace Acquire.Instruments.Profiles;

/// <summary>A line as the user sees it with places for what varies, such as <c>R {red} G {green} B {blue}</c>. Blanks before and after the
/// line are ignored; a run of blanks matches any run of blanks; <c>{{</c> and <c>}}</c> stand for braces. A place may carry a width in
/// characters, <c>{red:5}</c>; otherwise it takes as much as its kind allows.</summary>
/// <param name="Text">The template as written.</param>
/// <param name="Parts">Its parts in order.</param>
public sealed record LineTemplate(string Text, ImmutableArray<TemplatePart> Parts)
{
    /// <summary>The places a template may name, for messages.</summary>
    internal const string KnownPlaces = "{red}, {green}, {blue}, {visual}, {value}, {word}, {number}, {letter}, {leader} or {skip}";

    /// <summary>The places that the template of an answer may name, for messages.</summary>
    internal const string KnownAnswerPlaces = "{serial}, {version}, {type}, {word}, {number}, {letter}, {leader} or {skip}";

    /// <remarks>Blanks stand for any run of blanks, except directly before a place with a width: there they count exactly, because
    /// the place's own blanks could not be told from them.</remarks>
    /// <exception cref="TemplateException">A place is unknown or the template could be read in two ways.</exception>
    public static LineTemplate Parse(string text)
    {
        var parts = TemplateScanner.Scan(text);
        TemplateRules.Check(text, parts);
        return new LineTemplate(text, [.. parts.Select(p => p.Part)]);
    }

    /// <summary>The template of an answer by which an instrument says what it is, such as <c>UNIT {serial} REV {version}</c>.</summary>
    /// <exception cref="TemplateException">A place is unknown, none or one twice says what the instrument is, or it could be read in
    /// two ways.</exception>
    public static LineTemplate ParseAnswer(string text)
    {
        var parts = TemplateScanner.Scan(text, isAnswer: true);
        TemplateRules.Check(text, parts);
        var named = parts.Where(p => p.Part is TemplatePart.Word { Name: not null }).ToList();
        var twice = named.FindLast(p => named.Count(o => ((TemplatePart.Word)o.Part).Name == ((TemplatePart.Word)p.Part).Name) > 1);
        return (named.Count, twice.Part) switch
        {
            (0, _) => throw new TemplateException(
                text, 1, "the answer says nothing of the instrument; expected {serial}, {version} or {type} in it."),
            (_, TemplatePart.Word { Name: var name }) => throw new TemplateException(
                text, twice.Position, $"{{{name}}} stands twice; expected it once."),
            _ => new LineTemplate(text, [.. parts.Select(p => p.Part)]),
        };
    }
}

/// <summary>One part of a line template.</summary>
public abstract record TemplatePart
{
    private TemplatePart() { }

    /// <summary>Characters that stand on the line exactly so.</summary>
    public sealed record Literal(string Text) : TemplatePart;

    /// <summary>One or more blanks.</summary>
    public sealed record Blanks : TemplatePart;

    /// <summary>
    /// A density of a named channel, which may stand twice and must then be the same: <c>{red}</c>, <c>{green}</c>, <c>{blue}</c>,
    /// <c>{visual}</c>.
    /// </summary>
    public sealed record ChannelValue(Channel Channel, int? Width) : TemplatePart;

    /// <summary>A density whose channel follows from the order of lines: <c>{value}</c>.</summary>
    public sealed record NextValue(int? Width) : TemplatePart;

    /// <summary>A run of non-blank characters: <c>{word}</c> is not looked at; one with a name, such as <c>{serial}</c>, stands in the
    /// template of an answer.</summary>
    public sealed record Word(int? Width, string? Name = null) : TemplatePart;

    /// <summary>Digits, with sign and decimal mark allowed, that are not looked at: <c>{number}</c>.</summary>
    public sealed record Number(int? Width) : TemplatePart;

    /// <summary>One letter that is not looked at, also directly behind a number: <c>{letter}</c>.</summary>
    public sealed record Letter : TemplatePart;

    /// <summary>Dots or underlines that lead to a number, one or more: <c>{leader}</c>.</summary>
    public sealed record Leader : TemplatePart;

    /// <summary>Anything, up to the literal that follows or the end of the line: <c>{skip}</c>.</summary>
    public sealed record Skip : TemplatePart;
}

/// <summary>A line template that cannot be understood or could be read in two ways. The message says where and what was expected.</summary>
/// <param name="template">The template as written.</param>
/// <param name="position">The first character concerned, counted from 1.</param>
/// <param name="problem">What is wrong and what was expected.</param>
public sealed class TemplateException(string template, int position, string problem)
    : Exception($"Template '{template}', character {position}: {problem}");
