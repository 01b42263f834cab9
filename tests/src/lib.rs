#![doc = "x"]
