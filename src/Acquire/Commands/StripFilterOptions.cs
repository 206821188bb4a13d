using Acquire.Bench.History;

namespace Acquire.Commands;

/// <summary>Which strips a command is about: the same words in every command that takes several.</summary>
internal sealed class StripFilterOptions
{
    private readonly Option<string?> _lot = new("--lot") { Description = "Only strips of this lot.", HelpName = "CODE" };
    private readonly Option<string?> _since =
        new("--since") { Description = "Only strips read on this day or later.", HelpName = "YYYY-MM-DD" };
    private readonly Option<string?> _until =
        new("--until") { Description = "Only strips read on this day or before.", HelpName = "YYYY-MM-DD" };
    private readonly Option<int?> _last = new("--last") { Description = "Only the last so many.", HelpName = "N" };
    private readonly Option<string?> _line = new("--line") { Description = "Only strips of this process line.", HelpName = "NAME" };
    private readonly Option<string?> _bottle = new("--bottle") { Description = "Only strips that ran in this bottle.", HelpName = "NAME" };
    private readonly Option<string?> _process =
        new("--process") { Description = "Only strips of this process; the newest strip's when not given.", HelpName = "NAME" };

    /// <param name="command">Gains the options.</param>
    /// <param name="process">Whether its strips are of one process, which can be named: what stands on one chart must be.</param>
    /// <param name="bottle">Whether a bottle chooses strips too.</param>
    public void AddTo(Command command, bool process = false, bool bottle = false)
    {
        foreach (var option in (Option[])[_lot, _since, _until, _last, _line, .. bottle ? [_bottle] : Array.Empty<Option>(),
            .. process ? [_process] : Array.Empty<Option>()])
        {
            command.Options.Add(option);
        }
    }

    /// <param name="time">Tells by which clock a day begins and ends.</param>
    /// <exception cref="BenchException">A day is none, or the last strips are no number.</exception>
    public HistoryFilter Of(ParseResult parsed, TimeProvider time) => new StripsSaid
    {
        Lot = parsed.GetValue(_lot),
        Since = parsed.GetValue(_since),
        Until = parsed.GetValue(_until),
        Last = parsed.GetValue(_last),
        Line = parsed.GetValue(_line),
        Bottle = parsed.GetValue(_bottle),
        Process = parsed.GetValue(_process),
    }.Filter(time.LocalTimeZone);
}
