namespace Acquire.Bench.Processes;

/// <summary>The sentences that tell what a process sheet lacks, and how to mend it.</summary>
public static class ProcessNotes
{
    /// <summary>Why strips of this process get no verdict.</summary>
    public static string NoLimits(ProcessSheet sheet) =>
        $"no limits are set for {sheet.Name}. Copy them from the sheet packed with the strips: acquire process new {sheet.Key} makes "
        + $"the file to fill in, acquire process show {sheet.Key} names it.";

    /// <summary>What cannot be taken of strips of a layout; null when all can.</summary>
    public static string? NotOn(ProcessSheet sheet, SheetLayout layout)
    {
        var lacking = sheet.Parameters.Except(sheet.ParametersOn(layout)).Select(p => p.Name).ToList();
        return lacking.Count == 0
            ? null
            : $"Not on strips of the layout '{layout.Key}': {string.Join(", ", lacking)}.{(layout.Note is { } note ? " " + note : "")}";
    }

    /// <summary>How far a sheet's limits are filled in, in a word or two.</summary>
    public static string State(ProcessSheet sheet)
    {
        var set = sheet.Parameters.Count(p => p.HasLimits);
        return set == 0 ? "none yet" : set == sheet.Parameters.Length ? "set" : $"{set} of {sheet.Parameters.Length} set";
    }
}
