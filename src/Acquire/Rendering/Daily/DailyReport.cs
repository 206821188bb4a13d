using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Bench.Books;
using Acquire.Bench.Daily;

namespace Acquire.Rendering.Daily;

/// <summary>
/// The day on one screen: the answer first, then what it rests on, then what to do. 80 columns; a long list is cut and says so.
/// </summary>
internal static class DailyText
{
    private const int Columns = 79, Indent = 2, MostOfAKind = 5, MostToDo = 8;

    public static void Write(IAnsiConsole console, DailyBoard board, TimeProvider time)
    {
        Paragraph(console, board.Answer, 0, hanging: 0);
        Paragraph(console, TodayWords.Scope, 0, hanging: 0);
        console.Line("");
        Section(console, $"Lines, {Numbers.Moment(board.Facts.Now, time)}", board.Lines, l => Line(console, l));
        if (AssumptionLine.Of(board.Lines.Aggregate(Assumed.None, (all, l) => all | l.RestsOnAssumption)) is { } assumed)
        {
            Paragraph(console, assumed, Indent);
        }

        Section(console, "Developer in use", board.Facts.Bottles, b => Paragraph(console, Bottle(b), Indent));
        Section(console, "Densitometer", board.Facts.Instruments, i => Paragraph(console, Instrument(i), Indent));
        Section(console, "Strips", board.Facts.Lots, l => Paragraph(console, Lot(l), Indent));
        console.Line(board.ToDo.IsEmpty ? "Nothing to do first." : "First:");
        foreach (var (i, item) in board.ToDo.Take(MostToDo).Index())
        {
            Paragraph(console, string.Create(CultureInfo.InvariantCulture, $"{i + 1}. {item}"), Indent, hanging: 3);
        }

        More(console, board.ToDo.Length - MostToDo);
    }

    private static void Line(IAnsiConsole console, LineToday line)
    {
        var strip = line is { Facts.Newest: { } newest, StripAge: { } age }
            ? $"strip {StripId.ShortForm(newest.StripId)} of lot {newest.Lot}, {EntryText.Age(age)} old"
            : "no strip";
        Paragraph(
            console,
            $"{line.Name} ({line.Facts.Process}): {strip}; {line.Why}{AssumptionLine.MarkOf(line.RestsOnAssumption)}",
            Indent, hanging: 12, label: $"{TodayWords.Word(line.Says),-10}  ");
    }

    private static string Bottle(BottleFacts bottle)
    {
        var state = bottle.State;
        var area = state is { AreaUsed: > 0, AreaPerLitre: { } each }
            ? string.Create(CultureInfo.InvariantCulture, $", {each / FilmFormat.Roll:0.0} rolls per litre")
            : ", no film yet";
        return $"{state.Bottle.Name} ({state.Solution.Name}, {EntryText.Word(state.Solution.Kind)}): {EntryText.Age(state.Age!.Value)} "
            + $"old{area}; {TodayWords.Standing(bottle.Standing)}";
    }

    private static string Instrument(InstrumentFacts instrument) =>
        $"{instrument.Name}: "
                + (instrument.Check.InForce is { } check
                    ? $"checked, next check due {Numbers.Day(DateOnly.FromDateTime(check.DueAt.DateTime))}"
                    : instrument.Check.Lacking)
                + "; "
        + (instrument.HasRepeatability ? "repeatability known" : "repeatability never tested");

    private static string Lot(LotFacts lot)
    {
        var left = lot.Left is { } strips ? $"{Numbers.Count(strips, "strip")} left" : "not counted";
        return $"lot {lot.Code}: {left}, " + lot.DaysToExpiry switch
        {
            null => "expiry not known",
            < 0 => $"EXPIRED {Numbers.Count(-lot.DaysToExpiry.Value, "day")} ago",
            { } days => $"{Numbers.Count(days, "day")} to expiry",
        };
    }

    private static void Section<T>(IAnsiConsole console, string title, IReadOnlyCollection<T> items, Action<T> write)
    {
        if (items.Count == 0)
        {
            return;
        }

        console.Line(title);
        foreach (var item in items.Take(MostOfAKind))
        {
            write(item);
        }

        More(console, items.Count - MostOfAKind);
    }

    private static void More(IAnsiConsole console, int more)
    {
        if (more > 0)
        {
            console.Line(string.Create(CultureInfo.InvariantCulture, $"  and {more} more; see --json"));
        }
    }

    private static void Paragraph(IAnsiConsole console, string text, int indent, int hanging = 2, string label = "")
    {
        var first = true;
        foreach (var line in PlainText.Wrap(text, Columns - indent - hanging))
        {
            console.Line(new string(' ', first ? indent : indent + hanging) + (first ? label : "") + line);
            first = false;
        }
    }
}
