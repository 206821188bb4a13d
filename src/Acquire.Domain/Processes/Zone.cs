namespace Acquire.Domain.Processes;

/// <summary>Where a deviation lies by the trade's plain comparison, uncertainty not counted.</summary>
public enum Zone
{
    /// <summary>Within the action limit.</summary>
    Inside,

    /// <summary>Past the action limit, within the control limit.</summary>
    Action,

    /// <summary>Past the control limit.</summary>
    Out,
}
