using Acquire.Bench.Processes;

namespace Acquire.Rendering.Processes;

/// <summary>Process sheets for people.</summary>
internal static class ProcessReport
{
    public static void WriteList(IAnsiConsole console, IEnumerable<ProcessSheet> sheets)
    {
        var table = Tables.New("process", "name", "status", "limits", "strip layouts");
        foreach (var sheet in sheets)
        {
            var layouts = sheet.Layouts.Select(l => $"{l.Key} ({(l.Patches.Length == 1 ? "1 patch" : $"{l.Patches.Length} patches")})");
            table.Row(sheet.Key, sheet.Name, StatusOf(sheet), ProcessNotes.State(sheet), string.Join(", ", layouts));
        }

        console.WriteTable(table);
    }

    /// <param name="file">The file of the user's own sheet, whether it is there or not.</param>
    /// <param name="isOwn">Whether the user has an own sheet of this key.</param>
    public static void WriteOne(IAnsiConsole console, ProcessSheet sheet, string file, bool isOwn)
    {
        console.Line($"{sheet.Name}, status {StatusOf(sheet)}{(isOwn ? $"; your own sheet, {file}" : "")}");
        foreach (var layout in sheet.Layouts)
        {
            console.Line($"Layout {layout.Key}: {layout.Strip.Name}; read in the order {string.Join(", ", layout.Patches.Select(Patch))}.");
            if (layout.Note is { } about)
            {
                console.Line(about);
            }
        }

        var table = Tables.New("parameter", "stands for", "taken of", "action limit", "control limit");
        foreach (var parameter in sheet.Parameters)
        {
            table.Row(
                parameter.Name,
                parameter.StandsFor,
                TakenOf(parameter),
                LimitText.Of(parameter, l => l.Action),
                LimitText.Of(parameter, l => l.Control));
        }

        console.WriteTable(table);
        foreach (var source in sheet.Parameters.SelectMany(p => p.LimitSources).Distinct())
        {
            console.Line($"Source of the limits: {source}");
        }

        if (sheet.Note is { } note)
        {
            console.Line(note);
        }

        if (sheet.Parameters.All(p => !p.HasLimits))
        {
            console.Line($"Strips get no verdict: {ProcessNotes.NoLimits(sheet)}");
        }

        console.Line(isOwn
            ? $"To change it, edit {file} and prove it: acquire process check {file}"
            : $"To change it, edit a copy: acquire process new {sheet.Key} writes {file}");
    }

    private static string StatusOf(ProcessSheet sheet)
    {
        var status = sheet.Status is DensityStatus.Visual ? "visual" : sheet.Status.ToString();
        return sheet.Geometry is DensityGeometry.Reflection ? status + ", reflection" : status;
    }

    private static string Patch(LayoutPatch patch) => patch.LogH is { } logH
        ? string.Create(CultureInfo.InvariantCulture, $"{patch.Patch.Name} (log H {logH:0.00})")
        : patch.Patch.Name;

    private static string TakenOf(Parameter parameter) =>
        parameter.Channels.IsEmpty
            ? parameter.MadeOf
            : $"{parameter.MadeOf}, {string.Join(' ', parameter.Channels.Select(c => c.Letter()))}";
}

/// <summary>The limits of a parameter in one cell; where channels differ, channel by channel.</summary>
internal static class LimitText
{
    public static string Of(Parameter parameter, Func<ParameterLimits, Limit?> which)
    {
        var common = Word(which(parameter.Limits));
        return parameter.ChannelLimits.IsEmpty
            ? common
            : string.Join(", ", parameter.Channels.Select(c => $"{c.Letter()} {Word(which(parameter.LimitsIn(c)))}"));
    }

    private static string Word(Limit? limit) => limit?.ToString() ?? "none";
}
