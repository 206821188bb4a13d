namespace Acquire.Analysis.ProcessSheets;

/// <summary>A process sheet cannot be read or found. Each problem says where it is and what was expected.</summary>
public sealed class ProcessSheetException(ImmutableArray<string> problems, Exception? inner = null)
    : Exception(string.Join(Environment.NewLine, problems), inner)
{
    /// <summary>A single problem.</summary>
    public ProcessSheetException(string problem, Exception? inner = null)
        : this([problem], inner)
    {
    }

    /// <summary>
    /// Every problem found, for example <c>c41.json, line 12, $.parameters[0].action.upper: expected a number, found a string.</c>
    /// </summary>
    public ImmutableArray<string> Problems { get; } = problems;
}
