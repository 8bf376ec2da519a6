namespace Sparewright.Measure;

/// <summary>The four ways in which a caliper measures (ISO 13385-1).</summary>
public enum ReadingWay { Outside, Inside, Depth, Step }
