using Acquire.Bench.Instruments;
using Acquire.Storage.Records;

namespace Acquire.Rendering.Instruments;

/// <summary>The instruments, as text and as JSON.</summary>
internal static class InstrumentReport
{
    /// <summary>Writes an instrument after a change, and gives the exit code.</summary>
    public static int WriteChange(Surroundings surroundings, ChangedInstrument changed, bool json)
    {
        if (changed.Warning is { } warning)
        {
            surroundings.Error.Line($"Take care: {warning}");
        }

        if (json)
        {
            JsonOutput.Write(surroundings.Out, InstrumentJson.Of(changed.Instrument));
            return ExitCode.Done;
        }

        var (number, by, reason) = (changed.Instrument.Revision.Number, changed.Instrument.Revision.By, changed.Instrument.Revision.Reason);
        surroundings.Out.Line($"{changed.Instrument.Name}, change {number} by {by}: {reason}");
        Details(surroundings.Out, changed.Instrument);
        return ExitCode.Done;
    }

    public static void WriteList(IAnsiConsole console, InstrumentList list, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, list.Instruments.Select(i => InstrumentJson.Of(i.Instrument, i.Use)));
            return;
        }

        console.WriteList(
            list.Instruments, json: false, i => i,
            "No instruments yet. Add one: acquire instrument add NAME --port PORT --profile PROFILE",
            ["instrument", "port", "profile", "strips", "read last", "serial number", ""],
            i =>
            [
                i.Instrument.Name,
                i.Instrument.Port ?? "not said",
                i.Instrument.Profile,
                Numbers.Whole((int)(i.Use?.Strips ?? 0)),
                LastRead(i.Use, time),
                i.Instrument.SerialNumber ?? "",
                i.Instrument.RetiredAt is { } at ? $"retired {Numbers.Day(at)}" : "",
            ]);
        if (!list.Elsewhere.IsEmpty)
        {
            console.Line($"Records name also {Numbers.Names([.. list.Elsewhere.Select(u => u.Name)])}, not in the house: they come "
                + "from an import or from files of readings.");
        }
    }

    public static void WriteOverview(IAnsiConsole console, InstrumentOverview shown, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, InstrumentJson.Of(shown));
            return;
        }

        console.Line(shown.Instrument.Name);
        Details(console, shown.Instrument);
        console.Line("");
        console.Line(shown.Use is { } use
            ? $"Read with it: {Numbers.Count((int)use.Strips, "strip")}, {Numbers.Count((int)use.References, "reference")}, "
                + $"{Numbers.Count((int)use.Rechecks, "recheck")}; the last on {LastRead(use, time)}."
            : "Nothing was read with it yet.");
        console.Line(shown.Check.InForce is { } check
            ? $"Calibration check of {Numbers.Day(check.Provenance.At)} in force; the next is due on {Numbers.Day(check.DueAt)}."
            : $"{Numbers.Capital(shown.Check.Lacking!)}. Make one: acquire check --plaque NAME --instrument "
                + $"{Quoted(shown.Instrument.Name)}");
        console.Line(shown.Test is var (test, told)
            ? $"Repeatability test of {Numbers.Day(test.Provenance.At)}: "
                + string.Join(", ", told.Channels.Select(c => $"s {c.Channel.Word()} {Numbers.Four(c.Pooled.S)}")) + "."
            : "No repeatability test yet: uncertainties rest on an assumed repeatability. Make one: acquire repeatability --instrument "
                + Quoted(shown.Instrument.Name));
        console.Line("");
        var table = Tables.New("change", "when", "by", "why", "what");
        foreach (var (i, revision) in shown.History.Index())
        {
            table.Row(
                Numbers.Whole(revision.Revision.Number),
                Numbers.Moment(revision.Revision.At, time),
                revision.Revision.By,
                revision.Revision.Reason,
                i == 0 ? "" : string.Join("; ", revision.ChangesSince(shown.History[i - 1]).Select(Changed)));
        }

        console.WriteTable(table);
    }

    internal static string Quoted(string name) => name.Contains(' ', StringComparison.Ordinal) ? $"\"{name}\"" : name;

    private static string Changed((string What, string Before, string After) change) =>
        $"{change.What}: {(change.Before.Length > 0 ? change.Before : "nothing")} → {(change.After.Length > 0 ? change.After : "nothing")}";

    private static void Details(IAnsiConsole console, Instrument instrument)
    {
        foreach (var (what, value) in instrument.Said().Where(s => s.Value.Length > 0))
        {
            console.Line($"  {what + ":",-19}{value}");
        }
    }

    private static string LastRead(InstrumentUse? use, TimeProvider time) =>
        use is null ? "never" : Numbers.Moment(Written.Time(use.LastReadAt), time);
}

/// <summary>Instruments for other programs. Names of properties are a contract; new ones may be added. Steps are densities.</summary>
internal static class InstrumentJson
{
    public static object Of(Instrument i, InstrumentUse? use = null) => new
    {
        i.Name,
        i.Port,
        i.Profile,
        i.Baud,
        i.DisplayStep,
        i.Filters,
        i.SerialNumber,
        i.Notes,
        i.RetiredAt,
        Revision = Of(i.Revision),
        Strips = use?.Strips,
        LastReadAt = LastRead(use),
    };

    public static object Of(InstrumentOverview shown)
    {
        var i = shown.Instrument;
        return new
        {
            i.Name,
            i.Port,
            i.Profile,
            i.Baud,
            i.DisplayStep,
            i.Filters,
            i.SerialNumber,
            i.Notes,
            i.RetiredAt,
            Check = shown.Check.InForce?.Id,
            CheckDueAt = shown.Check.InForce?.DueAt,
            CheckLacking = shown.Check.Lacking,
            Repeatability = shown.Test?.Made.Id,
            Strips = shown.Use?.Strips ?? 0,
            References = shown.Use?.References ?? 0,
            Rechecks = shown.Use?.Rechecks ?? 0,
            Checks = shown.Use?.Checks ?? 0,
            Tests = shown.Use?.Tests ?? 0,
            LastReadAt = LastRead(shown.Use),
            Revisions = shown.History.Select((r, n) => new
            {
                Revision = Of(r.Revision),
                Changes = n == 0 ? [] : r.ChangesSince(shown.History[n - 1]).Select(c => new { c.What, c.Before, c.After }),
            }),
        };
    }

    private static object Of(Revision revision) => new { revision.Number, revision.By, revision.At, revision.Reason };

    private static DateTimeOffset? LastRead(InstrumentUse? use) => use is null ? null : Written.Time(use.LastReadAt);
}
