namespace Acquire.Bench.Books;

/// <summary>How a line is run, as far as it is said.</summary>
/// <param name="Agitation">How film or solution is moved; null where not said.</param>
/// <param name="Temperature">Of the developer, in °C; null where not said.</param>
/// <param name="Time">In the developer; null where not said.</param>
public sealed record LineMethodSaid(string? Agitation, double? Temperature, TimeSpan? Time)
{
    internal bool IsEmpty => Agitation is null && Temperature is null && Time is null;

    internal LineMethod Of(BookDraft draft, Guid line) => new(draft.Stamp(), line, Agitation, Temperature, Time);
}

/// <summary>A new line.</summary>
/// <param name="Method">How it is run from then on; it may be empty.</param>
public sealed record LineRequest(string Name, LineKind Kind, string ProcessKey, LineMethodSaid Method) : BookRequest
{
    internal override IEnumerable<BookEntry> Make(BookDraft draft)
    {
        if (draft.Books.Lines.FirstOrDefault(l => BookNames.Same(l.Name, Name)) is { } there)
        {
            throw new BenchException(
                $"There is a line {there.Name} already. To change its method: acquire line method \"{there.Name}\" --temperature 38");
        }

        var line = new ProcessLine(draft.Stamp(), Name, Kind, ProcessKey);
        return Method.IsEmpty ? [line] : [line, Method.Of(draft, line.Id)];
    }
}

/// <summary>A change of method; what is not said stays as it was.</summary>
/// <param name="Line">The line; null for the one used last.</param>
public sealed record MethodRequest(string? Line, LineMethodSaid Method) : BookRequest
{
    internal override IEnumerable<BookEntry> Make(BookDraft draft) => Method.IsEmpty
        ? throw new BenchException("Say what changed: --agitation, --temperature, --time, or more than one of them.")
        : [Method.Of(draft, draft.Line(Line).Id)];
}

/// <summary>Something that belongs on the charts.</summary>
/// <param name="Kind">What kind of event; null for another.</param>
/// <param name="Text">What happened; where it is empty, the kind says it.</param>
/// <param name="Line">The line it concerns; null for none.</param>
/// <param name="Bottle">The bottle it concerns; null for none.</param>
public sealed record EventRequest(BookEventKind? Kind, string Text, string? Line = null, string? Bottle = null) : BookRequest
{
    internal override IEnumerable<BookEntry> Make(BookDraft draft) =>
    [
        new BookEvent(
            draft.Stamp(),
            Kind ?? BookEventKind.Other,
            Text.Length == 0 && Kind is { } kind ? EntryText.Word(kind) : Text,
            Line is null ? null : BookNames.Line(draft.Books, Line).Id,
            Bottle is null ? null : BookNames.Bottle(draft.Books, Bottle, draft.At).Id),
    ];
}
